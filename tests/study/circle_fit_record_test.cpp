// Directions thrown at random, their fit whole.

#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "keyhour/study/circle_fit.hpp"
#include "recorded.hpp"
#include "support/dice.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

/// Readings of one direction, some with a second or third sense, some wild, some of one clock.
std::vector<Sighting> thrown(test::Dice& dice, int n, double truth_deg) {
    std::vector<Sighting> out;
    const bool share = dice.chance(0.5);
    for (int i = 0; i < n; ++i) {
        Sighting s;
        const double sigma = dice.chance(0.2) ? 0.01 : dice.between(0.2, 3);
        double off = sigma * dice.between(-2, 2);
        if (dice.chance(0.25)) off += dice.between(-15, 15) * sigma;
        s.readings_deg = {truth_deg + off};
        if (dice.chance(0.3)) s.readings_deg.push_back(truth_deg + off + 180);
        if (dice.chance(0.1)) s.readings_deg.push_back(truth_deg + off + dice.between(-90, 90));
        if (dice.chance(0.3)) std::swap(s.readings_deg.front(), s.readings_deg.back());
        s.contributions["own " + std::to_string(i)] = sigma;
        if (share) s.contributions["clock"] = dice.between(-2, 2);
        if (dice.chance(0.2)) s.contributions["needle"] = 0.4;
        out.push_back(std::move(s));
    }
    return out;
}

Sighting plain(double reading_deg, double sigma_deg, const std::string& name) {
    return {{reading_deg}, {{name, sigma_deg}}};
}

}  // namespace

TEST_CASE("fits on the circle are those recorded", "[recorded][circle_fit]") {
    Record record{"circle_fit"};
    test::Dice dice{20261};
    for (int n = 1; n <= 7; ++n)
        for (int i = 0; i < (n < 3 ? 12 : 20); ++i) {
            const double truth = dice.between(0, 360);
            const auto sightings = thrown(dice, n, truth);
            const double hint = truth + dice.between(-180, 180);
            record.add(fmt::format("fit-{}-{}", n, i), fit_on_circle(sightings, hint));
            record.add("first", plain_fit(sightings, {0}, hint));
            if (n > 2) record.add("two", plain_fit(sightings, {2, 0}, truth));
        }
    record.check();
}

TEST_CASE("fits of few, of equals and of what a test finds wild are those recorded",
          "[recorded][circle_fit]") {
    Record record{"circle_fit_edges"};
    const auto add = [&](const std::vector<Sighting>& sightings, double hint = 0) {
        record.add("fit", fit_on_circle(sightings, hint));
    };
    // Nothing is known of what makes them err: the least variance of their own is left.
    add({{{77}, {}}});
    add({{{77}, {}}, {{78}, {}}});
    // Of one input alone, so that one is the other.
    add({{{10}, {{"a", 2}}}, {{10.02, 190}, {{"a", 2}}}, {{9.98}, {{"a", -2}}}});
    // One after the other goes further from the rest: kept, suspected, left out.
    for (const double off : {0.0, 2.0, 2.5, 2.9, 3.3, 4.0, 6.0, 9.0, 20.0}) {
        add({plain(350, 1, "a"), plain(350 + off, 1, "b")});
        add({plain(350, 1, "a"), plain(350.5, 1, "b"), plain(350 + off, 1, "c")});
        add({plain(350, 1, "a"), plain(350.5, 1, "b"), plain(349.5, 1, "c"),
             plain(350 + off, 1, "d")});
        add({plain(350, 1, "a"), plain(350.5, 3, "b"), plain(349.5, 0.5, "c"),
             plain(350 + off, 2, "d"), plain(350 - off, 2, "e"), plain(350.2, 1, "f")});
    }
    // Two camps of equal strength, and which of them the hint takes.
    for (const double hint : {0.0, 45.0, 91.0, 180.0, 269.0, 359.0}) {
        add({plain(10, 1, "a"), plain(11, 1, "b"), plain(100, 1, "c"), plain(101, 1, "d")}, hint);
        add({{{20, 200}, {{"a", 1}}}, {{199, 19}, {{"b", 1}}}}, hint);
        add({{{20, 110, 200, 290}, {{"a", 1}}}, {{21, 111}, {{"b", 1}}}}, hint);
        add({{{20, 51, 82}, {{"a", 1}}}, {{20.5, 51.8, 84}, {{"b", 1}}}}, hint);
    }
    // Of two camps one fits better and better, until the hint no longer counts.
    for (double off = 1; off < 3; off += 0.15)
        for (const double hint : {10.0, 100.0}) {
            add({plain(10, 1, "a"), plain(11, 1, "b"), plain(100, 1, "c"),
                 plain(100 + off, 1, "d")},
                hint);
            add({{{10, 100}, {{"a", 1}}}, {{11, 100 + off}, {{"b", 1}}}}, hint);
            add({{{100, 10}, {{"a", 1}}}, {{100 + off, 11}, {{"b", 1}}}}, hint);
        }
    record.check();
}

TEST_CASE("angles wrapped and chances of chi-squares are those recorded",
          "[recorded][circle_fit]") {
    Record record{"circle_fit_figures"};
    for (const double d :
         {-1e9,  -720.5, -540.0, -360.0, -359.5, -180.5, -180.0, -179.5, -1e-18, 0.0,
          1e-18, 90.0,   179.5,  180.0,  180.5,  359.5,  360.0,  360.5,  719.0,  1e9 + 0.5})
        record.add("turned", std::pair{turn_deg(d), half_turn_deg(d)});
    for (int freedom = 1; freedom <= 9; ++freedom)
        for (const double chi : {0.0, 1e-6, 0.3, 1.0, 3.0, 7.5, 20.0, 60.0, 300.0})
            record.add("chance", chi_square_chance(chi, freedom));
    const Sighting s{{10, 100, 190.5, 350}, {{"a", 3}, {"b", -4}}};
    record.add("sigma", s.sigma_deg());
    for (const double to : {0.0, 4.9, 5.0, 5.1, 54.0, 56.0, 170.0, 269.0, 272.0, -30.0, 730.0})
        record.add("nearest", nearest_reading(s, to));
    record.check();
}

// Simpson's rule over the density of chi-square with k degrees of freedom,
// x^(k/2 - 1) e^(-x/2) / (2^(k/2) gamma(k/2)).
TEST_CASE("the chance of a chi-square is its density summed up from there on", "[circle_fit]") {
    for (const int k : {2, 3, 4, 5, 8, 11}) {
        const double half = k / 2.0;
        const auto density = [&](double x) {
            return std::exp((half - 1) * std::log(x) - x / 2 - half * std::log(2) -
                            std::lgamma(half));
        };
        for (const double from : {0.5, 2.0, 9.0, 25.0}) {
            constexpr int steps = 4000;
            const double step = 200.0 / steps;
            double sum = density(from) + density(from + 200);
            for (int i = 1; i < steps; ++i)
                sum += (i % 2 == 0 ? 2 : 4) * density(from + i * step);
            CAPTURE(k, from);
            CHECK(chi_square_chance(from, k) == Approx(sum * step / 3).epsilon(1e-6));
        }
    }
}
