#include "keyhour/sun/geocentric.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

using namespace keyhour;
using namespace keyhour::sun;

namespace {

constexpr Instant start_of_2026 = Instant::from_unix_s(1767225600);

double minutes(Angle equation_of_time) {
    return equation_of_time.in_degrees() * 4;
}

}  // namespace

TEST_CASE("1800-01-01 to 2200-01-01 is served, and nothing else", "[sun]") {
    CHECK(is_served(first_instant));
    CHECK(is_served(last_instant));
    CHECK_FALSE(is_served(first_instant - Seconds{1}));
    CHECK_FALSE(is_served(last_instant + Seconds{1}));
    CHECK_FALSE(is_served(Instant::from_unix_s(std::numeric_limits<double>::quiet_NaN())));
    CHECK_FALSE(is_served(Instant::from_unix_s(std::numeric_limits<double>::infinity())));
}

TEST_CASE("angles and vector are two forms of one place", "[sun]") {
    for (int i = 0; i < 400; ++i) {
        const Instant t = first_instant + Seconds{i * 3.15e7};
        const GeocentricSun sun = geocentric_sun(t);
        CHECK(sun.right_ascension.in_degrees() >= 0);
        CHECK(sun.right_ascension.in_degrees() < 360);
        CHECK(sun.sidereal_time.in_degrees() >= 0);
        CHECK(sun.sidereal_time.in_degrees() < 360);
        const ApparentVector there = apparent_vector(t), back = as_vector(sun);
        // 4e-13 of the arctangent, and roundings
        CHECK(back.x == Approx(there.x).margin(2e-12));
        CHECK(back.y == Approx(there.y).margin(2e-12));
        CHECK(back.z == Approx(there.z).margin(2e-12));
        CHECK(std::remainder(back.sidereal_turns - there.sidereal_turns, 1.0) ==
              Approx(0).margin(1e-12));
    }
}

TEST_CASE("a right ascension just short of a whole turn is zero, not the turn", "[sun]") {
    // 1 - 1e-20 rounds to 1, which 0..360 does not hold.
    for (const double y : {-1e-10, -1e-16, -1e-20, -1e-300, 0.0, 1e-20}) {
        const Angle ascension = as_angles({1, y, 0, 0}, start_of_2026).right_ascension;
        CHECK(ascension >= Angle::degrees(0));
        CHECK(ascension < Angle::degrees(360));
        CHECK(std::fabs(std::sin(ascension.in_radians()) - y) < 1e-12);
    }
}

TEST_CASE("the equation of time runs between -14.2 and +16.5 minutes", "[sun]") {
    // Almanac values of every year of our time: about -14.2 min around 11 February, +16.4 around 3
    // November. From memory.
    double least = 0, most = 0;
    int day_of_least = 0, day_of_most = 0;
    for (int day = 0; day < 365; ++day) {
        const double now =
            minutes(geocentric_sun(start_of_2026 + Seconds{86400.0 * day}).equation_of_time);
        if (now < least) least = now, day_of_least = day;
        if (now > most) most = now, day_of_most = day;
    }
    CHECK(least == Approx(-14.2).margin(0.1));
    CHECK(most == Approx(16.4).margin(0.1));
    CHECK(day_of_least == Approx(41).margin(2));  // 11 February
    CHECK(day_of_most == Approx(306).margin(2));  // 3 November
}

TEST_CASE("the equation of time is the same at every hour of a day but for seconds", "[sun]") {
    // It changes by 30 s a day at most (late in December), so by 7.5 s in six hours.
    for (int day = 0; day < 365; day += 13)
        for (const double hours : {0.0, 6.0, 12.0, 18.0}) {
            const Instant t = start_of_2026 + Seconds{86400.0 * day + 3600 * hours};
            const double now = minutes(geocentric_sun(t).equation_of_time),
                         later = minutes(geocentric_sun(t + Seconds{6 * 3600}).equation_of_time);
            CHECK(std::fabs(later - now) * 60 < 8);
        }
}

TEST_CASE("the declination swings as far as the obliquity of the ecliptic", "[sun]") {
    // 23.436 degrees in 2026: 84381.406 - 46.8 x 0.26 arcsec (IAU 2006), nutation 0.003 degree.
    double least = 0, most = 0;
    for (int hour = 0; hour < 365 * 24; hour += 2) {
        const double now =
            geocentric_sun(start_of_2026 + Seconds{3600.0 * hour}).declination.in_degrees();
        least = std::min(least, now);
        most = std::max(most, now);
    }
    CHECK(most == Approx(23.436).margin(0.003));
    CHECK(least == Approx(-23.436).margin(0.003));
}

TEST_CASE("the sun moves evenly: no jump between one minute and the next", "[sun]") {
    // 0.041 arcsec a second at most among the stars; a leap second shifts it by that much once.
    constexpr double arcsec = 206264.8;
    for (const double start_s : {-5.0e9, 6.3e7, 1483228800.0 - 900, 4.1e9}) {
        ApparentVector before = apparent_vector(Instant::from_unix_s(start_s));
        for (int minute = 1; minute < 60; ++minute) {
            const ApparentVector now = apparent_vector(Instant::from_unix_s(start_s + 60 * minute));
            const double moved =
                std::hypot(now.x - before.x, now.y - before.y, now.z - before.z) * arcsec;
            CHECK(moved > 2.0);  // 60 x 0.0394 less the radial part
            CHECK(moved < 2.7);
            before = now;
        }
    }
}
