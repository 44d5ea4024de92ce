#include "keyhour/light/twilight.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace keyhour;
using namespace keyhour::light;

namespace {

double moon(double altitude_deg, double phase_deg) {
    return moonlight_lx({Angle::degrees(altitude_deg)}, Angle::degrees(phase_deg));
}

}  // namespace

TEST_CASE("day passes into night without a step", "[light]") {
    double before = clear_day_to_night_lx({Angle::degrees(-90)});
    CHECK(before == clear_day_to_night_lx({Angle::degrees(-18)}));
    for (int i = 1; i <= 18000; ++i) {
        const double now = clear_day_to_night_lx({Angle::degrees(-90 + 0.01 * i)});
        REQUIRE(now >= before);
        REQUIRE(now < 1.015 * before);
        before = now;
    }
}

TEST_CASE("moonlight rises with the moon and falls with its phase angle", "[light]") {
    for (const double phase : {0.0, 30.0, 90.0, 150.0, 180.0}) {
        double before = 0;
        for (int i = -2000; i <= 9000; ++i) {
            const double now = moon(0.01 * i, phase);
            REQUIRE(now >= before);
            REQUIRE((now < 1.02 * before || i < -1700));
            before = now;
        }
    }
    for (int phase = 0; phase < 180; ++phase)
        CHECK(moon(40, phase + 1) < moon(40, phase));
    CHECK(moon(40, -50) == moon(40, 50));
    CHECK(moon(40, 310) == Approx(moon(40, 50)));
    CHECK(moon(-18, 0) == 0);
    CHECK(moon(-90, 0) == 0);
}

TEST_CASE("where two polynomials meet their logarithms' mean holds, and away from there each",
          "[light]") {
    // USNO Circular 171: log10 lx by powers of the altitude over 90 degrees.
    const auto curve = [](double h, double l0, double l1, double l2, double l3) {
        const double q = h / 90;
        return l0 + l1 * q + l2 * q * q + l3 * q * q * q;
    };
    const auto before = [&](double h) { return curve(h, 2.88, 21.81, -258.11, -858.36); };
    const auto after = [&](double h) { return curve(h, 2.70, 12.17, -431.69, -1899.83); };
    const auto told = [](double h) {
        return std::log10(clear_day_to_night_lx({Angle::degrees(h)}));
    };
    CHECK(told(-5) == Approx((before(-5) + after(-5)) / 2));
    CHECK(told(-4.7) == Approx(before(-4.7)));
    CHECK(told(-5.3) == Approx(after(-5.3)));
    CHECK(told(-4.9) == Approx(before(-4.9)).margin(0.01));
    CHECK(told(100) == told(90));
}

TEST_CASE("the moon below the horizon leaves what the sun would, less the night", "[light]") {
    const auto sun = [](double h) {
        return clear_day_to_night_lx({Angle::degrees(h)}) -
               clear_day_to_night_lx({Angle::degrees(-18)});
    };
    for (const double h : {-2.0, -6.0, -12.0, -17.0})
        CHECK(moon(h, 40) == Approx(moon(-0.8, 40) * sun(h) / sun(-0.8)));
    // The phase's factor: 10^-(8.68e-3 f + 2.2e-9 f^4), f in degrees (USNO Circular 171).
    for (const double f : {20.0, 90.0, 140.0})
        CHECK(moon(40, f) / moon(40, 0) ==
              Approx(std::pow(10, -8.68e-3 * f - 2.2e-9 * f * f * f * f)));
}
