#include "keyhour/sun/time_scales.hpp"

#include <date/date.h>

#include <catch2/catch.hpp>
#include <cmath>

using namespace keyhour;
using namespace keyhour::sun;
using namespace date::literals;

namespace {

Instant midnight(date::year_month_day day) {
    return Instant::from_unix_s(
        static_cast<double>(date::sys_days{day}.time_since_epoch().count()) * 86400);
}

}  // namespace

TEST_CASE("a leap second counts from its midnight on", "[sun]") {
    CHECK(delta_t(midnight(2017_y / 1 / 1)).count() == Approx(69.184));
    CHECK(delta_t(midnight(2017_y / 1 / 1) - Seconds{1}).count() == Approx(68.184));
    CHECK(delta_t(midnight(1972_y / 1 / 1)).count() == Approx(42.184));
    CHECK(delta_t(midnight(2199_y / 1 / 1)).count() == Approx(69.184));
}

TEST_CASE("every leap second falls on 1 January or 1 July", "[sun]") {
    for (const LeapSecondStep& step : leap_second_steps) {
        const auto days = static_cast<int>(step.from_unix_s / 86400);
        REQUIRE(days * 86400.0 == step.from_unix_s);
        const date::year_month_day day{date::sys_days{date::days{days}}};
        CHECK(day.day() == 1_d);
        CHECK((day.month() == date::January || day.month() == date::July));
    }
}

TEST_CASE("delta T has no jump beyond a second, and none above 0.1 s where fits meet", "[sun]") {
    Instant t = midnight(1800_y / 1 / 1);
    double before = delta_t(t).count();
    while (t < midnight(1972_y / 2 / 1)) {
        t = t + Seconds{86400};
        const double now = delta_t(t).count();
        // 1941 and 1920 meet within 0.1 s, the leap seconds' start within 0.07 s
        CHECK(std::fabs(now - before) < 0.12);
        before = now;
    }
}

TEST_CASE("TT of J2000.0 is 64.184 s ahead of UTC", "[sun]") {
    CHECK(tt_seconds_since_j2000(Instant::from_unix_s(946728000)) == Approx(64.184));
}

TEST_CASE("the Earth turns once more than the days of a year", "[sun]") {
    const Instant t = midnight(2026_y / 1 / 1);
    const double year =
        earth_rotation_turns(t + Seconds{365.2422 * 86400}) - earth_rotation_turns(t);
    // 1.00273781191135448 x 365.2422 = 366.2422 turns; whole turns may be left out.
    CHECK(std::remainder(year - 0.2422 - 365.2422 * 0.00273781191135448, 1.0) ==
          Approx(0).margin(1e-9));
}
