// What a window beside the key gives a mark, against configuration factors in closed form and a sum
// over the standard's overcast sky.
//
// Closed form: Howell, A Catalog of Radiation Heat Transfer Configuration Factors (McGraw-Hill
// 1982), plane element to a parallel rectangle whose corner lies over the element; from memory, and
// held by the note's 0.2395 for a metre square seen from a metre. Sky: ISO 15469:2004 type 1.

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "keyhour/light/overcast.hpp"
#include "workshop.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

constexpr double pi = std::numbers::pi;

/// Over the corner of a rectangle a by b, c away from it.
double corner_factor(double a, double b, double c) {
    const double X = a / c, Y = b / c, x = std::hypot(1, X), y = std::hypot(1, Y);
    return (X / x * std::atan(Y / x) + Y / y * std::atan(X / y)) / (2 * pi);
}

/// ISO 15469 type 1 over its value at the horizon.
double gradation(double altitude_sine) {
    return altitude_sine <= 0 ? 1 : 1 + 4 * std::exp(-0.70 / altitude_sine);
}

/// A workshop with a second window like the first in the party wall, which is x = 0, its middle
/// straight before the mark.
site::Location with_side_window(room::Cover cover) {
    site::Location l = Workshop{.glass = room::Glass::none}.location();
    room::Window side = l.room->windows[0];
    side.name = "side";
    side.wall = 3;
    side.left_m = 2.5 - 0.7;
    side.cover = cover;
    l.room->windows.push_back(side);
    l.room->marks = {{"seat", {3.0, 2.5}, 1.55, 0.15, {}}};
    return l;
}

constexpr double half_width = 0.7, half_height = 0.8, away = 3.0;

}  // namespace

TEST_CASE("the note's metre square seen from a metre", "[light][published]") {
    CHECK(4 * corner_factor(0.5, 0.5, 1) == Approx(0.2395).margin(0.00005));
}

TEST_CASE("a side window's sky and ground are fill, each worth its configuration factor",
          "[light][published]") {
    const Lit lit{with_side_window(room::Cover::open)};
    const double lower_half = 2 * corner_factor(half_width, half_height, away);
    for (const double altitude : {10.0, 30.0, 60.0}) {
        const SunNow sun = sun_at(altitude, 10);
        const double level_lx = light::overcast_horizontal_lx(sun.state.true_altitude);
        const MarkLight m = lit.light.overcast(0, 0, sun);
        const WindowLight& side = m.windows[1];
        // The land gives back a fifth and fills the lower half of the opening.
        CHECK(side.ground_lx == Approx(0.2 * level_lx * lower_half).epsilon(0.01));

        // The upper half, in small squares, of a sky scaled to that level.
        double dome = 0, sky = 0;
        constexpr int n = 200;
        for (int i = 0; i < n; ++i) {
            const double h = (i + 0.5) / n * pi / 2;
            dome += 2 * pi * gradation(std::sin(h)) * std::sin(h) * std::cos(h) * pi / 2 / n;
            for (int k = 0; k < n; ++k) {
                const double up = (i + 0.5) / n * half_height;
                const double across = ((k + 0.5) / n * 2 - 1) * half_width;
                const double far2 = away * away + up * up + across * across;
                sky += gradation(up / std::sqrt(far2)) * away * away / (far2 * far2) *
                       (half_height / n) * (2 * half_width / n);
            }
        }
        CHECK(side.sky_lx == Approx(level_lx / dome * sky).epsilon(0.01));
        // So low over the horizon the sky is nearly even: the closed form times its luminance.
        const double even_lx = level_lx / dome * pi * lower_half;
        CHECK(side.sky_lx > even_lx);
        CHECK(side.sky_lx < even_lx * gradation(half_height / std::hypot(half_height, away)));

        CHECK(m.other_windows_lx.likely == Approx(side.sky_lx + side.ground_lx));
        CHECK(m.fill_lx.likely == Approx(m.given_back_lx.likely + m.other_windows_lx.likely));
        CHECK(m.windows[0].total_lx() == Approx(m.key_lx.likely));
    }
}

TEST_CASE("a side window in the shade takes the key's ratio down by what it gives",
          "[light][published]") {
    // Sun through one window, sky alone through the other: what a meter reads with the key shaded.
    const Lit open{with_side_window(room::Cover::open)},
        black{with_side_window(room::Cover::blackout)};
    const SunNow sun = sun_at(20, 10);
    const MarkLight with = open.light.at(0, 0, sun), without = black.light.at(0, 0, sun);
    CHECK(with.windows[1].direct_lx == 0);
    CHECK(with.key_lx.likely == Approx(without.key_lx.likely));
    CHECK(without.other_windows_lx.high == 0);
    CHECK(with.fill_lx.likely > without.fill_lx.likely + with.windows[1].sky_lx);
    CHECK(with.likely().ratio(light::RatioConvention::key_to_fill) <
          0.8 * without.likely().ratio(light::RatioConvention::key_to_fill));
    CHECK(with.metered_lx().likely == Approx(with.key_lx.likely + with.fill_lx.likely));
}

TEST_CASE("sun through another window is not fill: it comes from where the key does",
          "[light][published]") {
    const Lit lit{with_side_window(room::Cover::open)};
    const SunNow sun = sun_at(25, 80);  // almost square to the party wall
    const MarkLight m = lit.light.at(0, 0, sun);
    const MarkLight from_side = lit.light.at(0, 1, sun);
    REQUIRE(from_side.windows[1].beam_lx > 0);
    CHECK(m.other_windows_lx.likely ==
          Approx(m.windows[1].sky_lx + m.windows[1].ground_lx + m.windows[1].cloth_lx));
    CHECK(from_side.other_windows_lx.likely == Approx(m.windows[0].diffuse_lx()));
}
