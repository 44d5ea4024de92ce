#include "keyhour/study/circle_fit.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace keyhour::study;

namespace {

Sighting sighting(double reading_deg, double sigma_deg, const std::string& name) {
    return {{reading_deg}, {{name, sigma_deg}}};
}

}  // namespace

TEST_CASE("two directions beside north have their mean at north", "[study]") {
    const auto fit = fit_on_circle({sighting(359, 1, "a"), sighting(1, 1, "b")}, 90);
    CHECK(std::abs(half_turn_deg(fit.value_deg)) < 1e-6);
    CHECK(fit.sigma_deg == Approx(1 / std::sqrt(2.0)).epsilon(1e-3));
    CHECK(fit.freedom == 1);
    CHECK(fit.chi_square == Approx(2).epsilon(1e-3));
    CHECK(half_turn_deg(fit.residuals[0].residual_deg) == Approx(-1));
    CHECK_FALSE(fit.other_deg);
}

// The weighted mean of 10 +- 1 and 13 +- 2 is (10 * 4 + 13) / 5 = 10.6, its sigma sqrt(4/5).
TEST_CASE("weights are inverse squares of the doubts", "[study]") {
    const auto fit = fit_on_circle({sighting(10, 1, "a"), sighting(13, 2, "b")}, 0);
    CHECK(fit.value_deg == Approx(10.6).margin(1e-3));
    CHECK(fit.sigma_deg == Approx(std::sqrt(0.8)).epsilon(1e-3));
}

// Two readings with one clock: its share does not average out.
TEST_CASE("a doubt that observations share stays whole however many they are", "[study]") {
    std::vector<Sighting> many;
    for (int i = 0; i < 50; ++i)
        many.push_back({{100.0}, {{"clock", 0.5}, {"own " + std::to_string(i), 1.0}}});
    const auto fit = fit_on_circle(many, 0);
    CHECK(fit.sigma_deg == Approx(std::sqrt(0.25 + 1.0 / 50)).epsilon(1e-3));
}

TEST_CASE("a reading without a sense takes that of the others, or says that it has two",
          "[study]") {
    const Sighting line{{20, 200}, {{"line", 0.5}}};
    const auto resolved = fit_on_circle({line, sighting(204, 4, "compass")}, 20);
    CHECK(resolved.value_deg == Approx(200.06).margin(0.02));
    CHECK_FALSE(resolved.other_deg);
    const auto open = fit_on_circle({line}, 190);
    CHECK(open.value_deg == Approx(200));
    REQUIRE(open.other_deg);
    CHECK(*open.other_deg == Approx(20));
    const auto pair = fit_on_circle({line, {{199, 19}, {{"second", 0.5}}}}, 10);
    CHECK(pair.value_deg == Approx(19.5));
    REQUIRE(pair.other_deg);
    CHECK(*pair.other_deg == Approx(199.5));
    CHECK(pair.left_out.empty());
}

TEST_CASE("one observation that does not fit is left out and named", "[study]") {
    const auto fit = fit_on_circle({sighting(196, 0.5, "a"), sighting(196.4, 0.6, "b"),
                                    sighting(215, 3, "compass"), sighting(195.8, 0.5, "c")},
                                   0);
    REQUIRE(fit.left_out == std::vector<std::size_t>{2});
    CHECK(fit.value_deg == Approx(196.02).margin(0.05));
    CHECK_FALSE(fit.residuals[2].used);
    CHECK(fit.residuals[2].normalised > 5);
    CHECK(fit.chance > 0.3);
    CHECK(fit.widened == 1);
}

TEST_CASE("of two that differ none is left out, the doubt is widened", "[study]") {
    const auto fit = fit_on_circle({sighting(100, 1, "a"), sighting(104, 1, "b")}, 0);
    CHECK(fit.left_out.empty());
    CHECK(fit.suspects.size() == 2);
    CHECK(fit.value_deg == Approx(102));
    CHECK(fit.widened == Approx(std::sqrt(8.0)).epsilon(1e-3));
    CHECK(fit.sigma_deg == Approx(2).epsilon(1e-3));
    CHECK_FALSE(fit.contradicts());
    CHECK(fit_on_circle({sighting(100, 1, "a"), sighting(190, 1, "b")}, 0).contradicts());
}

// Abramowitz and Stegun, table 26.8 (from memory): upper 5 % points of chi-square.
TEST_CASE("the chance of a chi-square is that of the tables", "[study]") {
    CHECK(chi_square_chance(3.8415, 1) == Approx(0.05).epsilon(1e-3));
    CHECK(chi_square_chance(5.9915, 2) == Approx(0.05).epsilon(1e-3));
    CHECK(chi_square_chance(7.8147, 3) == Approx(0.05).epsilon(1e-3));
    CHECK(chi_square_chance(9.4877, 4) == Approx(0.05).epsilon(1e-3));
    CHECK(chi_square_chance(18.307, 10) == Approx(0.05).epsilon(1e-3));
    CHECK(chi_square_chance(0, 3) == 1);
}

TEST_CASE("another reading a small angle off is another value too, from thirty degrees on",
          "[study]") {
    const auto other = [](double apart_deg) {
        return fit_on_circle({Sighting{{100, 100 + apart_deg}, {{"line", 0.5}}}}, 95).other_deg;
    };
    for (const double apart : {35.0, 50.0, 90.0, 180.0, 300.0}) {
        CAPTURE(apart);
        REQUIRE(other(apart));
        CHECK(half_turn_deg(*other(apart) - 100 - apart) == Approx(0).margin(1e-3));
    }
    CHECK_FALSE(other(20));
    CHECK_FALSE(other(340));
}
