// A shadow observation from first principles: the sun's azimuth is ERFA's, the rest is one line.

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "keyhour/study/bearing.hpp"
#include "published/erfa_sun.hpp"
#include "read/location_file.hpp"

using namespace keyhour;
using namespace keyhour::study;

TEST_CASE("a wall's bearing from a shadow is what ERFA's azimuth makes it", "[study][published]") {
    constexpr double degree = std::numbers::pi / 180;
    auto location = read::read_location(KEYHOUR_LOCATIONS "/tallow-lane.toml");
    REQUIRE(location);
    // 2026-02-10T13:20:00Z and four more moments of a year.
    for (const double unix_s :
         {1770729600.0, 1776765600.0, 1782043200.0, 1789894800.0, 1797854400.0}) {
        const Instant t = Instant::from_unix_s(unix_s);
        const auto sun = erfa_sun::sight(t, erfa_sun::delta_t_s(t), location->site.observer);
        REQUIRE(sun.direction[2] > 0);
        const double azimuth = std::atan2(sun.direction[0], sun.direction[1]) / degree;
        // The shadow runs along the street wall to the left, 30 degrees into the room: from a jamb
        // at (2.5, 0), over 1 m. The wall's left-hand end, seen from inside, lies at x = 7.2: the
        // shadow's plan direction is (cos 30, sin 30), 60 degrees clockwise from +y. The wall looks
        // towards -y, 180 degrees from +y.
        const double faces = azimuth + 180 - 60 + 180;
        const room::Point2 from{2.5, 0}, to{2.5 + std::cos(30 * degree), std::sin(30 * degree)};
        const Observation line{"line", "", ShadowLine{from, to, true, 0.01, {t, 30}}};
        const Observation angle{
            "angle", "", ShadowAngle{0, false, Angle::degrees(30), Angle::degrees(1), {t, 30}}};
        const SunPath path{location->site, track_over({line})};
        for (const Observation& o : {line, angle}) {
            const auto answer = bearing_of_wall(*location, path, {0, {o}});
            REQUIRE(answer);
            CAPTURE(unix_s, o.name);
            CHECK(half_turn_deg(answer->faces.from_north.in_degrees() - faces) ==
                  Approx(0).margin(0.0005));  // delta T and UT1 - UTC: below a second of time
        }
    }
}
