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
