// A forge's opening as a source of light, against configuration factors in closed form, the inverse
// square, and ISO 2720.
//
// Howell, A Catalog of Radiation Heat Transfer Configuration Factors (McGraw-Hill 1982): plane
// element to a parallel rectangle over its corner, and to one square to its plane; from memory, the
// parallel one held by the note's 0.2395 for a metre square seen from a metre.

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <string>

#include "keyhour/light/colour_temperature.hpp"
#include "keyhour/light/exposure.hpp"
#include "keyhour/study/forge_light.hpp"
#include "read/location_file.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

constexpr double pi = std::numbers::pi;

double corner_factor(double a, double b, double c) {
    const double X = a / c, Y = b / c, x = std::hypot(1, X), y = std::hypot(1, Y);
    return (X / x * std::atan(Y / x) + Y / y * std::atan(X / y)) / (2 * pi);
}

/// Straight before the middle of a by b.
double middle_factor(double a, double b, double away) {
    return 4 * corner_factor(a / 2, b / 2, away);
}

/// A smith's forge that looks along x from the origin, 0.9 m above the floor.
site::Forge hearth() {
    site::Forge f;
    f.name = "hearth";
    f.at = {0, 0, 0.9};
    f.facing = {1, 0, 0};
    f.width_m = 0.5;
    f.height_m = 0.3;
    f.metered_lx = 320;
    f.metered_at_m = 2;
    return f;
}

}  // namespace

TEST_CASE("a forge gives its metered level back, and its configuration factor elsewhere",
          "[light][forge][published]") {
    const site::Forge f = hearth();
    CHECK(forge_level_lx(f, {2, 0, 0.9}) == Approx(320).epsilon(1e-9));
    for (const double away : {0.3, 0.6, 1.0, 4.0, 9.0})
        CHECK(
            forge_level_lx(f, {away, 0, 0.9}) ==
            Approx(320 * middle_factor(0.5, 0.3, away) / middle_factor(0.5, 0.3, 2)).epsilon(1e-9));
}

TEST_CASE("far from a forge the inverse square holds, with the cosine at its face",
          "[light][forge][published]") {
    const site::Forge f = hearth();
    const double intensity_cd =
        320 / (pi * middle_factor(0.5, 0.3, 2)) * 0.5 * 0.3;  // luminance x area
    for (const double deg : {0.0, 30.0, 60.0, 80.0}) {
        const double a = deg * pi / 180, r = 8;
        CHECK(forge_level_lx(f, {r * std::cos(a), r * std::sin(a), 0.9}) ==
              Approx(intensity_cd * std::cos(a) / (r * r)).epsilon(0.003));
        CHECK(forge_level_lx(f, {r * std::cos(a), 0, 0.9 + r * std::sin(a)}) ==
              Approx(intensity_cd * std::cos(a) / (r * r)).epsilon(0.003));
    }
    CHECK(forge_level_lx(f, {-1, 0, 0.9}) == 0);
}

TEST_CASE("a hearth that looks up lights from below", "[light][forge][published]") {
    site::Forge f = hearth();
    f.facing = {0, 0, 1};
    f.metered_at_m = 1;
    CHECK(forge_level_lx(f, {0, 0, 1.9}) == Approx(320).epsilon(1e-9));
    CHECK(forge_level_lx(f, {0, 0, 0.5}) == 0);
}

TEST_CASE("EV and lux go into one another by ISO 2720", "[light][published]") {
    // 2^EV = E S / C: with C = 250 EV 0 at ISO 100 is 2.5 lx, EV 15 some 82 klx; from memory.
    const auto lx = [](const char* ev) {
        const auto read = read::read_location_text(
            std::string{"format = 1\n[site]\nposition = \"52.95N 1.15W\"\n"
                        "time_zone = \"Europe/London\"\n[[meter]]\nplace = \"outside\"\n"
                        "time = 2026-02-12T11:30:00\nsky = \"clear\"\nev = "} +
                ev + '\n',
            "t.toml");
        REQUIRE(read);
        return read->found.readings.front().lx;
    };
    CHECK(lx("0") == Approx(2.5));
    CHECK(lx("15") == Approx(81920));
    CHECK(lx("-2") == Approx(0.625));
    CHECK(lx("7.4") == Approx(422.2).margin(0.05));
    CHECK(light::ev_at_iso_100(lx("12.7")) == Approx(12.7));
}

TEST_CASE("a black body's light has its own temperature", "[light][published]") {
    for (const double kelvin : {1200.0, 1500.0, 2856.0, 6500.0}) {
        const light::Tristimulus t = light::black_body_colour(kelvin);
        CHECK(t.Y == 1);
        CHECK(light::colour_temperature(light::chromaticity(t)).kelvin ==
              Approx(kelvin).epsilon(0.001));
    }
    // Illuminant A: 0.4476, 0.4075 (CIE 15).
    const light::Chromaticity a = light::chromaticity(light::black_body_colour(2856));
    CHECK(a.x == Approx(0.4476).margin(0.0005));
    CHECK(a.y == Approx(0.4075).margin(0.0005));
}
