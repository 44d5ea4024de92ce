#include "keyhour/light/twilight.hpp"

#include <catch2/catch.hpp>

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
