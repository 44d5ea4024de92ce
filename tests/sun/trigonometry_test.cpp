#include "keyhour/sun/trigonometry.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

using namespace keyhour::sun;

// The yardstick is the C library's, exact to a unit in the last place.

TEST_CASE("sine and cosine of turns stay within their promise", "[sun]") {
    double worst = 0;
    for (int i = -20000; i <= 20000; ++i) {
        const double turns = i * 0.0001 + 1e-5 * (i % 7);
        // Whole turns taken off before the multiplication by pi, as the promise is for the angle.
        const double radians = 2 * std::numbers::pi * (turns - std::nearbyint(turns));
        const SineCosine sc = sine_cosine_of_turns(turns);
        worst = std::max({worst, std::fabs(sc.sine - std::sin(radians)),
                          std::fabs(sc.cosine - std::cos(radians))});
    }
    CHECK(worst < 5e-14 + 5e-16);  // the promise, and the rounding of the argument here
}

TEST_CASE("quarter turns have an exact zero", "[sun]") {
    for (int quarter = -8; quarter <= 8; ++quarter) {
        const SineCosine sc = sine_cosine_of_turns(0.25 * quarter);
        CHECK((quarter % 2 == 0 ? sc.sine : sc.cosine) == 0);
    }
    CHECK(sine_cosine(std::numbers::pi / 2).cosine == 0);
}

TEST_CASE("both lanes of a pair compute what a double does", "[sun]") {
    for (int i = 0; i < 500; ++i) {
        const double u = 0.013 * i - 3, v = 7.7 - 0.031 * i;
        const Pair pair = cosine_of_turns(Pair{u, v});
        CHECK(pair[0] == cosine_of_turns(u));
        CHECK(pair[1] == cosine_of_turns(v));
        const Pair direction = arctangent(Pair{u, v}, Pair{v, -u});
        CHECK(direction[0] == arctangent(u, v));
        CHECK(direction[1] == arctangent(v, -u));
    }
}

TEST_CASE("the arctangent stays within its promise in every quadrant", "[sun]") {
    double worst = 0;
    for (int i = 0; i < 36000; ++i) {
        const double angle = (i - 17999.5) * std::numbers::pi / 18000;
        for (const double length : {1e-9, 1.0, 1e12}) {
            const double y = length * std::sin(angle), x = length * std::cos(angle);
            worst = std::max(worst, std::fabs(arctangent(y, x) - std::atan2(y, x)));
        }
    }
    CHECK(worst < 4e-13);
}

TEST_CASE("the arctangent knows the axes and the origin", "[sun]") {
    CHECK(arctangent(0.0, 1.0) == 0);
    CHECK(arctangent(1.0, 0.0) == Approx(std::numbers::pi / 2).epsilon(1e-15));
    CHECK(arctangent(-1.0, 0.0) == Approx(-std::numbers::pi / 2).epsilon(1e-15));
    CHECK(arctangent(0.0, -1.0) == Approx(std::numbers::pi).epsilon(1e-15));
    CHECK(arctangent(0.0, 0.0) == 0);
}
