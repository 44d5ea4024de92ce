#include <erfa.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <utility>

#include "keyhour/sun/position.hpp"

using namespace keyhour;

namespace {

/// Refraction at an apparent altitude: the true altitude that is lifted to it, by bisection.
double arcminutes_at_apparent(double apparent_deg, const Weather& air) {
    double low = apparent_deg - 2, high = apparent_deg;
    for (int i = 0; i < 60; ++i) {
        const double mid = (low + high) / 2;
        const double lifted = mid + sun::refraction({Angle::degrees(mid)}, air).in_degrees();
        (lifted < apparent_deg ? low : high) = mid;
    }
    return (apparent_deg - low) * 60;
}

}  // namespace

TEST_CASE("refraction follows the almanac's table for stars", "[sun][published]") {
    // The Nautical Almanac, altitude correction tables, stars and planets, 1010 hPa and 10 degrees
    // C, printed to 0.1 arcmin. From memory. Half a digit of rounding and 0.07' for the simple
    // formula.
    const Weather almanac{1010, 10};
    for (const auto& [apparent, correction] : {std::pair{5.0, 9.9},
                                               {10.0, 5.3},
                                               {15.0, 3.6},
                                               {20.0, 2.6},
                                               {30.0, 1.7},
                                               {45.0, 1.0},
                                               {60.0, 0.6}})
        CHECK(arcminutes_at_apparent(apparent, almanac) == Approx(correction).margin(0.17));
}

TEST_CASE("refraction agrees with ERFA's constants above 15 degrees", "[sun][published]") {
    // eraRefco (ERFA 2.0): A tan Z + B tan^3 Z for an apparent zenith distance Z, stated good to
    // 0.1 arcsec down to Z = 75 degrees for optical light. Saemundsson's formula lies 3 to 5 %
    // above it, 8 arcsec at most here: a thousandth of what a degree of bearing does in a room.
    for (const auto& [pressure, celsius] : {std::pair{1010.0, 10.0}, {850.0, 0.0}}) {
        double a = 0, b = 0;
        eraRefco(pressure, celsius, 0.5, 0.55, &a, &b);
        for (double h = 15; h <= 85; h += 5) {
            const double t = std::tan((90 - h) * M_PI / 180);
            const double reference = (a * t + b * t * t * t) * 180 / M_PI * 60;
            CHECK(arcminutes_at_apparent(h, {pressure, celsius}) ==
                  Approx(reference).epsilon(0.055));
        }
    }
}
