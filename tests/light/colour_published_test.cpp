#include <catch2/catch.hpp>
#include <cmath>

#include "keyhour/light/colour_temperature.hpp"

using namespace keyhour::light;

namespace {

double kelvin(double x, double y) {
    return colour_temperature({x, y}).kelvin;
}

/// McCamy, Color Research & Application 17 (1992) 142.
double mccamy(double x, double y) {
    const double n = (x - 0.3320) / (0.1858 - y);
    return ((449 * n + 3525) * n + 6823.3) * n + 5520.33;
}

}  // namespace

TEST_CASE("the CIE illuminants have their colour temperatures", "[light][published]") {
    // CIE 15: illuminant A is a black body at 2855 K (2856 on today's scale), D65 is called 6504 K.
    // x, y as published there to four digits; Duv of D65 +0.0033 (ANSI C78.377 and IES LM-79 use
    // the same measure; from memory).
    CHECK(kelvin(0.4476, 0.4075) == Approx(2855).margin(4));
    CHECK(kelvin(0.3127, 0.3291) == Approx(6504).margin(8));
    CHECK(colour_temperature({0.3127, 0.3291}).duv == Approx(0.0033).margin(0.0002));
    // D50 5003 K, D55 5503 K, D75 7504 K (CIE 15). From memory.
    CHECK(kelvin(0.34567, 0.35850) == Approx(5003).margin(8));
    CHECK(kelvin(0.33242, 0.34743) == Approx(5503).margin(8));
    CHECK(kelvin(0.29902, 0.31485) == Approx(7504).margin(20));
    // Equal energy, x = y = 1/3: 5455 K (CIE 15). From memory.
    CHECK(kelvin(1.0 / 3, 1.0 / 3) == Approx(5455).margin(8));
}

TEST_CASE("illuminant A through its spectrum", "[light][published]") {
    // CIE 15, the defining equation of illuminant A; chromaticity published 0.44757, 0.40745.
    Spectrum a{};
    for (std::size_t i = 0; i < wavelength_count; ++i) {
        const double nm = spectral_table[i].wavelength_nm;
        a[i] = std::pow(560 / nm, 5) * (std::exp(1.435e7 / (2848 * 560)) - 1) /
               (std::exp(1.435e7 / (2848 * nm)) - 1);
    }
    const Chromaticity c = chromaticity(tristimulus(a));
    CHECK(c.x == Approx(0.44757).margin(0.0001));
    CHECK(c.y == Approx(0.40745).margin(0.0001));
    CHECK(colour_temperature(c).kelvin == Approx(2855).margin(4));
}

TEST_CASE("McCamy's short form agrees from 3000 to 9000 K", "[light][published]") {
    // Along the daylight locus of CIE 15: y = -3 x2 + 2.870 x - 0.275.
    for (double x = 0.29; x <= 0.38; x += 0.005) {
        const double y = -3 * x * x + 2.870 * x - 0.275;
        INFO("x " << x);
        CHECK(kelvin(x, y) == Approx(mccamy(x, y)).epsilon(0.01));
    }
}

TEST_CASE("the notes' point has its temperature", "[light][published]") {
    // Krystek's u, v worked independently: 6504.39 K. x, y from CIE 1960: x = 3u/(2u - 8v + 4).
    const double u = 0.20047203, v = 0.31029290, d = 2 * u - 8 * v + 4;
    CHECK(kelvin(3 * u / d, 2 * v / d) == Approx(6504.39).margin(0.05));
}
