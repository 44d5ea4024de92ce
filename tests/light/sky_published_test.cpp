// The light of sun and clear sky against published figures, and against an independent working of
// the same sources for this project's notes.

#include <catch2/catch.hpp>
#include <cmath>
#include <utility>

#include "keyhour/light/air_mass.hpp"
#include "keyhour/light/clear_sky.hpp"
#include "keyhour/light/clear_spectrum.hpp"
#include "keyhour/light/colour_temperature.hpp"
#include "keyhour/light/twilight.hpp"

using namespace keyhour;
using namespace keyhour::light;

namespace {

/// True altitude taken for the apparent, as the notes' tables do.
SkyState at(double altitude_deg, double elevation_m = 0) {
    const Altitude altitude{Angle::degrees(altitude_deg)};
    return {.apparent = altitude, .true_altitude = altitude, .elevation_m = elevation_m};
}

double day_to_night(double altitude_deg) {
    return clear_day_to_night_lx({Angle::degrees(altitude_deg)});
}

}  // namespace

TEST_CASE("the observer's sums and the sun above the air are as published", "[light][published]") {
    // Sums of the CIE 1931 observer at 10 nm as the notes state them, from memory there; equal
    // areas under the three curves make equal-energy light white (ISO/CIE 11664-1).
    Tristimulus sum;
    for (const SpectralRow& row : spectral_table)
        sum = sum + row.observer;
    CHECK(sum.X == Approx(10.6836).margin(0.00006));
    CHECK(sum.Y == Approx(10.6858).margin(0.00006));
    CHECK(sum.Z == Approx(10.6769).margin(0.00006));
    // The luminous solar constant: 133.1 to 133.8 klx, ASTM E490 and Darula, Kittler & Gueymard,
    // Solar Energy 79 (2005) 559. From memory.
    const Tristimulus sun = tristimulus(extraterrestrial_spectrum());
    CHECK(sun.Y == Approx(133600).margin(50));
    CHECK(sun.Y > 133100);
    CHECK(sun.Y < 133800);
    CHECK(colour_temperature(chromaticity(sun)).kelvin == Approx(5961).margin(3));
}

TEST_CASE("the pressure and the air mass have the notes' values", "[light][published]") {
    CHECK(pressure_ratio(1000) == Approx(0.8870).margin(0.00005));
    // Rayleigh's optical depth at 550 nm, from the beam through air without haze, ozone apart.
    const Spectrum beam = ClearSpectra{{0}}.direct({Angle::degrees(90)});
    const std::size_t at_550 = 17;
    REQUIRE(spectral_table[at_550].wavelength_nm == 550);
    const double depth = -std::log(beam[at_550] / spectral_table[at_550].sun);
    CHECK(depth - 0.30 * 0.0850 == Approx(0.0983).margin(0.0001));
    // Bodhaine et al., J. Atmos. Oceanic Technol. 16 (1999) 1854, gives 0.0971: 1.2 % less. From
    // memory.
    CHECK(depth - 0.30 * 0.0850 == Approx(0.0971).epsilon(0.015));
}

TEST_CASE("clear air gives the levels and colours of an independent working",
          "[light][published]") {
    // The notes' table, sea level, 1 au. Tolerances as stated there: beam 2 % from 10 degrees up,
    // 5 % below, hazy 10 %; sky 4 %, below 8 degrees 6 %; colour 1.2 %, below 10 degrees 1.5 % or
    // 55 K. Half a unit of the last printed digit on top.
    struct Row {
        double altitude_deg;
        struct {
            double direct_lx, sky_lx, kelvin;
        } very_clear, normal, hazy;
    };
    constexpr Row rows[]{
        {1, {1890, 1240, 1704}, {139, 1270, 1380}, {0, 1270, 0}},
        {2, {5090, 1740, 2096}, {713, 1900, 1727}, {7, 1920, 0}},
        {5, {21200, 2800, 3012}, {7260, 3850, 2599}, {576, 4290, 1941}},
        {10, {47800, 5850, 3857}, {26500, 7290, 3478}, {6520, 8180, 2804}},
        {20, {77800, 8800, 4604}, {57100, 12900, 4305}, {27300, 18200, 3726}},
        {30, {92000, 10600, 4942}, {74300, 16500, 4697}, {44700, 26000, 4201}},
        {45, {102500, 12300, 5192}, {88100, 20000, 4996}, {61400, 33900, 4582}},
        {60, {107600, 13300, 5314}, {95100, 22000, 5144}, {70700, 38600, 4778}},
        {90, {110700, 14000, 5390}, {99500, 23500, 5237}, {77000, 41900, 4905}},
    };
    for (const Row& row : rows) {
        const double h = row.altitude_deg;
        for (const auto& [air, expected] : {std::pair{very_clear_air, row.very_clear},
                                            {normal_air, row.normal},
                                            {hazy_air, row.hazy}}) {
            INFO("altitude " << h << ", beta " << air.beta);
            const SkyLevels levels = clear_sky(at(h), air);
            const double direct = h >= 10 ? 0.02 : air.beta == hazy_air.beta ? 0.10 : 0.05;
            CHECK(levels.direct_normal_lx ==
                  Approx(expected.direct_lx).epsilon(direct).margin(0.5));
            CHECK(levels.diffuse_horizontal_lx ==
                  Approx(expected.sky_lx).epsilon(h >= 8 ? 0.04 : 0.06));
            REQUIRE(levels.direct_kelvin.has_value() == (expected.kelvin > 0));
            if (levels.direct_kelvin)
                CHECK(*levels.direct_kelvin == Approx(expected.kelvin)
                                                   .epsilon(h >= 10 ? 0.012 : 0.015)
                                                   .margin(h >= 10 ? 0 : 55));
        }
    }
    CHECK(clear_sky(at(30, 1000)).direct_normal_lx == Approx(75960).epsilon(0.002));
    CHECK(clear_sky(at(30, 2000)).direct_normal_lx == Approx(77460).epsilon(0.002));
}

TEST_CASE("the sky's own colour is of the notes' order", "[light][published]") {
    // Dome averages at 30 degrees. Hernandez-Andres et al., J. Opt. Soc. Am. A 18 (2001) 1325, give
    // sun and sky together as about 5700 K. From memory.
    CHECK(*clear_sky(at(30), very_clear_air).sky_kelvin == Approx(12700).epsilon(0.02));
    CHECK(*clear_sky(at(30), normal_air).sky_kelvin == Approx(8800).epsilon(0.02));
    CHECK(*clear_sky(at(30), hazy_air).sky_kelvin == Approx(6900).epsilon(0.02));
    CHECK(*clear_sky(at(45), normal_air).mix_kelvin == Approx(5700).epsilon(0.06));
}

TEST_CASE("the beam follows the closed form of luminous turbidity", "[light][published]") {
    // Clear (1982); Navvab, Karayel, Ne'eman & Selkowitz (1984): 133.8 klx exp(-a m Tv), a = 1/(9.9
    // + 0.043 m); Tv 1.9, 3.0 and 5.5 stand for the three airs. 3 % from 10 degrees up, 8 % at 5.
    for (const auto& [air, Tv] :
         {std::pair{very_clear_air, 1.9}, {normal_air, 3.0}, {hazy_air, 5.5}})
        for (const double h : {5.0, 10.0, 20.0, 30.0, 45.0, 60.0, 90.0}) {
            INFO("beta " << air.beta << ", altitude " << h);
            const double m = relative_air_mass({Angle::degrees(h)});
            const double closed = 133800 * std::exp(-m * Tv / (9.9 + 0.043 * m));
            CHECK(clear_sky(at(h), air).direct_normal_lx ==
                  Approx(closed).epsilon(h >= 10 ? 0.04 : 0.08));
        }
}

TEST_CASE("the beam lies near the irradiance models at high sun", "[light][published]") {
    // Ineichen & Perez, Solar Energy 73 (2002) 151, Linke turbidity 3.7, times 104 lm/W, about the
    // efficacy of direct light in Perez et al., Solar Energy 44 (1990) 271, in clear skies: a broad
    // band, +-25 % from 20 degrees up.
    for (double h = 20; h <= 90; h += 10) {
        const double m = relative_air_mass({Angle::degrees(h)});
        const double watts = 1361 * (0.664 + 0.163) * std::exp(-0.09 * m * (3.7 - 1));
        CHECK(clear_sky(at(h)).direct_normal_lx == Approx(104 * watts).epsilon(0.25));
    }
}

TEST_CASE("sun and sky together agree with the almanac office's curve", "[light][published]") {
    // Janiczek & DeYoung, USNO Circular 171 (1987): an independent fit to measured levels; it
    // lies up to 19 % lower, most at 25 degrees, which sky_band's 20 % covers.
    for (double h = 5; h <= 90; h += 5)
        CHECK(clear_sky(at(h)).global_horizontal_lx == Approx(day_to_night(h)).epsilon(0.20));
}

TEST_CASE("twilight and moonlight have the values of an independent working",
          "[light][published]") {
    // USNO Circular 171 worked for the notes. Where two of its polynomials meet ours lie between
    // them: 1 %.
    for (const auto& [h, lx] : {std::pair{0.0, 759.0},
                                {-0.833, 454.0},
                                {-3.0, 79.0},
                                {-6.0, 3.41},
                                {-9.0, 0.116},
                                {-12.0, 0.0081},
                                {-15.0, 0.0020},
                                {-18.0, 0.00064}}) {
        INFO("altitude " << h);
        // The smaller figures are printed to two digits.
        CHECK(day_to_night(h) == Approx(lx).epsilon(h > -11 ? 0.01 : 0.025));
    }
    const auto full_moon = [](double h) { return moonlight_lx({Angle::degrees(h)}, Angle{}); };
    CHECK(full_moon(90) == Approx(0.269).epsilon(0.003));
    CHECK(full_moon(45) == Approx(0.164).epsilon(0.004));
    // Civil twilight ends at 3.4 lx: the handbooks' figure (IES; from memory).
    CHECK(day_to_night(-6) == Approx(3.4).epsilon(0.02));
}

TEST_CASE("sun at air mass 1.5 lies near the reference spectrum", "[light][published]") {
    // ASTM G173-03, direct and circumsolar, air mass 1.5: 500 nm aerosol depth 0.084, ozone 0.34,
    // 900 W/m2 in all. The table could not be had here: its values at 450, 550 and 650 nm are from
    // memory and no better than 5 %. Ours has another sun (Neckel & Labs; 1.5 % more at 550 nm), no
    // water and no oxygen: 8 % in all.
    const double beta = 0.084 * std::pow(0.5, 1.3);
    const Altitude altitude{Angle::degrees(41.81)};
    CHECK(relative_air_mass(altitude) == Approx(1.5).epsilon(0.002));
    const Spectrum beam = ClearSpectra{{beta}}.direct(altitude);
    for (const auto& [index, expected] :
         {std::pair{std::size_t{7}, 1.24}, {std::size_t{17}, 1.33}, {std::size_t{27}, 1.27}}) {
        INFO(spectral_table[index].wavelength_nm << " nm");
        CHECK(beam[index] == Approx(expected).epsilon(0.08));
    }
}

TEST_CASE("light of the ground comes back from the sky as the paper says", "[light][published]") {
    // Bird & Riordan 1986, section 3, worked here for the ground's part alone: rs is what the sky
    // sends down of light from below, at air mass 1.8; of D + Q, ground g, comes
    // (D + Q) rs g / (1 - rs g) more. A = ln(1 - 0.65), 0.65 the rural haze's asymmetry.
    constexpr double beta = 0.2, g = 0.8, M = 1.8;
    const double A = std::log(1 - 0.65);
    const double AFS = A * (1.459 + A * (0.1595 + A * 0.4129));
    const double BFS = A * (0.0783 + A * (-0.3824 - A * 0.5874));
    const double down = 1 - 0.5 * std::exp((AFS + BFS / M) / M);
    const Altitude altitude{Angle::degrees(35)};
    const Spectrum beam = ClearSpectra{{beta}}.direct(altitude);
    const Spectrum black = ClearSpectra{{beta}, 0, 0}.diffuse(altitude);
    const Spectrum snow = ClearSpectra{{beta}, 0, g}.diffuse(altitude);
    for (std::size_t i = 0; i < wavelength_count; ++i) {
        const double um = spectral_table[i].wavelength_nm / 1000;
        const double um4 = um * um * um * um;
        const double rayleigh = std::exp(-M / (115.6406 * um4 - 1.335 * um * um));
        const double l = std::log(um / 0.4), w = 0.945 * std::exp(-0.095 * l * l);
        const double haze = beta * std::pow(um, -1.3);
        const double scattered = std::exp(-w * haze * M), kept = std::exp(-(1 - w) * haze * M);
        const double rs = kept * (0.5 * (1 - rayleigh) + (1 - down) * rayleigh * (1 - scattered));
        const double blue = um <= 0.45 ? std::pow(um + 0.55, 1.8) : 1;
        const double level = beam[i] * sin(altitude.above_horizon) + black[i] / blue;
        INFO(spectral_table[i].wavelength_nm << " nm");
        CHECK(snow[i] - black[i] == Approx(blue * level * rs * g / (1 - rs * g)).epsilon(1e-6));
    }
}

TEST_CASE("beyond the ranges that are told the nearer end holds", "[light]") {
    CHECK(pressure_ratio(-900) == pressure_ratio(-500));
    CHECK(pressure_ratio(-500) > pressure_ratio(-499));
    CHECK(pressure_ratio(15000) == pressure_ratio(11000));
    CHECK(pressure_ratio(11000) < pressure_ratio(10999));
    CHECK(relative_air_mass({Angle::degrees(96)}) == relative_air_mass({Angle::degrees(90)}));
    const Altitude high{Angle::degrees(50)};
    CHECK(ClearSpectra{{0.9}}.direct(high) == ClearSpectra{{0.5}}.direct(high));
    CHECK(extraterrestrial_spectrum()[0] == spectral_table[0].sun);
    Spectrum first{};
    first[0] = 1;
    CHECK(tristimulus(first).X == Approx(6830 * spectral_table[0].observer.X));
}
