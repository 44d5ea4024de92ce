#include "keyhour/light/colour_temperature.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace keyhour::light;

namespace {

/// A black body's chromaticity from Planck's law; c2 of the ITS-90.
Chromaticity black_body(double kelvin) {
    Spectrum spectrum{};
    for (std::size_t i = 0; i < wavelength_count; ++i) {
        const double m = spectral_table[i].wavelength_nm * 1e-9;
        spectrum[i] = 1e-30 / (std::pow(m, 5) * (std::exp(1.4388e-2 / (m * kelvin)) - 1));
    }
    return chromaticity(tristimulus(spectrum));
}

}  // namespace

TEST_CASE("a black body has its own temperature", "[light]") {
    for (double mired = 70; mired < 980; mired += 7) {
        const double kelvin = 1e6 / mired;
        const ColourTemperature found = colour_temperature(black_body(kelvin));
        INFO(kelvin << " K");
        CHECK(found.mired() == Approx(mired).margin(0.5).epsilon(0.002));
        CHECK(std::abs(found.duv) < 3e-4);
        CHECK(!found.below_range());
        CHECK(!found.above_range());
    }
}

TEST_CASE("beyond the range the colour temperature says so", "[light]") {
    CHECK(colour_temperature(black_body(800)).below_range());
    CHECK(colour_temperature(black_body(30000)).above_range());
    CHECK(colour_temperature({0.24, 0.23}).above_range());
    CHECK(colour_temperature({0.73, 0.27}).below_range());
}

TEST_CASE("a greenish light lies above the black bodies, a pinkish below", "[light]") {
    Chromaticity c = black_body(4000);
    c.y += 0.01;
    CHECK(colour_temperature(c).duv > 0.002);
    c.y -= 0.02;
    CHECK(colour_temperature(c).duv < -0.002);
}

TEST_CASE("mired shifts add up and change sign on the way back", "[light]") {
    CHECK(mired_shift(5600, 3200) == Approx(133.9).margin(0.05));
    CHECK(mired_shift(3200, 5600) == -mired_shift(5600, 3200));
}

TEST_CASE("a black body's colour lies where the tables put it", "[light]") {
    // CIE 1931 chromaticities of the full radiator; illuminant A is that of 2856 K. From memory
    // (Wyszecki & Stiles); the fit used is good to a few units of the fourth place.
    struct Row {
        double kelvin, x, y;
    };
    for (const Row& row : {Row{2000, 0.5267, 0.4133},
                           {2856, 0.4476, 0.4074},
                           {4000, 0.3805, 0.3768},
                           {6500, 0.3135, 0.3237},
                           {10000, 0.2807, 0.2884}}) {
        INFO(row.kelvin << " K");
        const Tristimulus colour = black_body_colour(row.kelvin);
        CHECK(colour.Y == 1);
        const Chromaticity c = chromaticity(colour);
        CHECK(c.x == Approx(row.x).margin(0.001));
        CHECK(c.y == Approx(row.y).margin(0.001));
    }
}

TEST_CASE("a black body's colour and its temperature are each other's inverse", "[light]") {
    for (double mired = 1e6 / highest_kelvin + 0.01; mired < 1e6 / lowest_kelvin; mired += 13) {
        const ColourTemperature told =
            colour_temperature(chromaticity(black_body_colour(1e6 / mired)));
        CHECK(1e6 / told.kelvin == Approx(mired).margin(2e-3));
        CHECK(told.duv == Approx(0).margin(1e-6));
    }
    const auto told = [](double kelvin) {
        return colour_temperature(chromaticity(black_body_colour(kelvin))).kelvin;
    };
    CHECK(told(lowest_kelvin) == lowest_kelvin);
    CHECK(told(highest_kelvin) == highest_kelvin);
    CHECK(told(500) == lowest_kelvin);
    CHECK(told(40000) == highest_kelvin);
    CHECK(told(1001) == Approx(1001).epsilon(1e-5));
    CHECK(told(14900) == Approx(14900).epsilon(1e-5));
    CHECK(chromaticity({}).x == Chromaticity{}.x);
}

TEST_CASE("beyond the range a black body keeps the range's colour", "[light]") {
    const Tristimulus most = black_body_colour(highest_kelvin),
                      least = black_body_colour(lowest_kelvin);
    for (const double beyond : {1.5, 4.0}) {
        CHECK(black_body_colour(beyond * highest_kelvin).X == most.X);
        CHECK(black_body_colour(beyond * highest_kelvin).Z == most.Z);
        CHECK(black_body_colour(lowest_kelvin / beyond).Z == least.Z);
    }
}
