#include "keyhour/sun/events.hpp"

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

using namespace keyhour;
using namespace keyhour::sun;

namespace {

constexpr Seconds day{86400};
constexpr Instant start_of_2026 = Instant::from_unix_s(1767225600);

struct OwnedTrack {
    OwnedTrack(Instant from, Instant to)
        : nodes(Track::nodes_needed(from, to)), track{*Track::build(from, to, nodes)} {}
    std::vector<TrackNode> nodes;
    Track track;
};

const Track& year_2026() {
    static const OwnedTrack owned{start_of_2026, start_of_2026 + 366 * day};
    return owned.track;
}

Place place_at(double latitude_deg, double longitude_deg = 0) {
    return Place{{Angle::degrees(latitude_deg), Angle::degrees(longitude_deg), 0}};
}

struct Found {
    std::vector<Crossing> list;
    Side side;
};

Found found(const Place& place, Altitude altitude, Instant from, Instant to) {
    std::array<Crossing, 1200> out;
    const Crossings c = crossings(year_2026(), place, altitude, from, to, out);
    return {{out.begin(), out.begin() + static_cast<std::ptrdiff_t>(c.count)}, c.side};
}

}  // namespace

TEST_CASE("the sun stands at the altitude when it crosses it", "[sun]") {
    for (const double latitude : {-89.5, -70.0, -35.0, 0.0, 23.4, 52.95, 66.0, 80.0, 90.0}) {
        for (const double altitude_deg : {-18.0, -0.8333, 0.0, 12.5, 60.0}) {
            const Place place = place_at(latitude, 31);
            const Altitude altitude{Angle::degrees(altitude_deg)};
            for (const Crossing& c :
                 found(place, altitude, start_of_2026, start_of_2026 + 365 * day).list) {
                const auto height = [&](double s) {
                    return year_2026()
                        .horizontal(place, c.at + Seconds{s})
                        .true_altitude.above_horizon.in_arcseconds();
                };
                CAPTURE(latitude, altitude_deg, c.at.unix_s());
                // 0.001 s of the sky's 15.04 arcsec a second, and an instant's last digit
                CHECK(std::fabs(height(0) - altitude_deg * 3600) < 0.016);
                if (std::fabs(height(30) - height(-30)) > 0.1) {
                    CHECK((height(30) > height(-30)) == c.upward);
                }
            }
        }
    }
}

TEST_CASE("day length follows from cos H = -tan(latitude) tan(declination)", "[sun]") {
    // The altitude whose geocentric value is zero: the parallax below the horizon. With the
    // declination of the event itself both half days close within the 0.01 s of diurnal aberration
    // and the ellipsoid's share of the parallax.
    const double latitude = 47.0;
    const Place place = place_at(latitude);
    for (int d = 5; d < 360; d += 11) {
        const Instant from = start_of_2026 + static_cast<double>(d) * day;
        const double distance = year_2026().at(from).distance_au;
        const Altitude level{-Angle::arcseconds(8.794 / distance)};
        for (const Crossing& c : found(place, level, from, from + day).list) {
            const GeocentricSun sun = year_2026().at(c.at);
            const double half = std::acos(-tan(Angle::degrees(latitude)) * tan(sun.declination));
            const Angle hour_angle = wrapped_half_turn(sun.sidereal_time - sun.right_ascension);
            CHECK(std::fabs(hour_angle.in_radians()) * 43200 / std::numbers::pi ==
                  Approx(half * 43200 / std::numbers::pi).margin(0.1));
            CHECK((hour_angle.in_radians() < 0) == c.upward);
        }
    }
}

TEST_CASE("the polar year has one rise and one set", "[sun]") {
    for (const double latitude : {90.0, -90.0}) {
        const auto year =
            found(place_at(latitude), rise_altitude, start_of_2026, start_of_2026 + 365 * day);
        REQUIRE(year.list.size() == 2);
        CHECK(year.list[0].upward == (latitude > 0));
        CHECK(year.list[1].upward == (latitude < 0));
    }
}

TEST_CASE("near a pole, where the year climbs as fast as the day swings, no crossing is lost",
          "[sun]") {
    // At 89.92 degrees the swing is 0.08 degree, so that the height may turn twice within hours.
    const Instant from = start_of_2026 + 76 * day, to = from + 4 * day;
    constexpr double step_s = 120, steps = 4 * 86400 / step_s;
    int short_visits = 0;
    for (const double longitude : {-40.0, 15.0, 80.0}) {
        const Place place = place_at(89.92, longitude);
        std::vector<double> heights;
        for (int i = 0; i <= steps; ++i)
            heights.push_back(year_2026()
                                  .horizontal(place, from + Seconds{i * step_s})
                                  .true_altitude.above_horizon.in_degrees());
        for (double altitude_deg = -0.8; altitude_deg < 0.3; altitude_deg += 0.0021) {
            std::vector<double> walked_s;
            for (std::size_t i = 1; i < heights.size(); ++i)
                if ((heights[i] >= altitude_deg) != (heights[i - 1] >= altitude_deg))
                    walked_s.push_back((static_cast<double>(i) - 0.5) * step_s);
            const auto told = found(place, {Angle::degrees(altitude_deg)}, from, to).list;
            CAPTURE(longitude, altitude_deg);
            REQUIRE(told.size() == walked_s.size());
            for (std::size_t i = 0; i < told.size(); ++i) {
                CHECK((told[i].at - from).count() == Approx(walked_s[i]).margin(0.51 * step_s));
                if (i > 0 && told[i].at - told[i - 1].at < Seconds{4 * 3600.0}) ++short_visits;
            }
        }
    }
    CHECK(short_visits > 4);
}

TEST_CASE("midsummer above the circle has no set, midwinter no rise", "[sun]") {
    const Instant midsummer = start_of_2026 + 171 * day, midwinter = start_of_2026 + 354 * day;
    const auto up = found(place_at(69.6, 18.9), rise_altitude, midsummer, midsummer + day);
    CHECK(up.list.empty());
    CHECK(up.side == Side::always_above);
    const auto down = found(place_at(69.6, 18.9), rise_altitude, midwinter, midwinter + day);
    CHECK(down.list.empty());
    CHECK(down.side == Side::always_below);
}

TEST_CASE("a summer of ever earlier rises has a day with two of them", "[sun]") {
    // Where the midnight sun is near, rise comes many minutes earlier every day; when it passes
    // midnight, one date has two.
    const Place place = place_at(67.3, -151);  // solar midnight is at 10:04 UTC
    int days_with_two_rises = 0, days_with_none = 0;
    std::size_t sum = 0;
    const Instant local_midnight = start_of_2026 + Seconds{10.6 * 3600};  // half an hour later
    for (int d = 0; d < 364; ++d) {
        const Instant from = local_midnight + static_cast<double>(d) * day;
        const auto of_day = found(place, rise_altitude, from, from + day);
        const auto rises = std::count_if(of_day.list.begin(), of_day.list.end(),
                                         [](const Crossing& c) { return c.upward; });
        days_with_two_rises += rises == 2 ? 1 : 0;
        days_with_none += of_day.list.empty() ? 1 : 0;
        sum += of_day.list.size();
    }
    CHECK(days_with_two_rises == 1);
    CHECK(days_with_none > 30);
    // No crossing is lost or counted twice where one day meets the next.
    CHECK(sum ==
          found(place, rise_altitude, local_midnight, local_midnight + 364 * day).list.size());
}

TEST_CASE("a crossing belongs to the range it starts, not to the one it ends", "[sun]") {
    const Place place = place_at(50);
    const auto whole = found(place, rise_altitude, start_of_2026, start_of_2026 + day);
    REQUIRE(whole.list.size() == 2);
    for (const Crossing& c : whole.list) {
        // Cut at the crossing and at the doubles next to it: always found exactly once.
        for (const double off : {-1e-6, -3e-7, 0.0, 3e-7, 1e-6}) {
            const Instant cut = c.at + Seconds{off};
            const auto before = found(place, rise_altitude, start_of_2026, cut);
            const auto after = found(place, rise_altitude, cut, start_of_2026 + day);
            CHECK(before.list.size() + after.list.size() == 2);
            for (const Crossing& b : before.list)
                CHECK(b.at < cut);
            for (const Crossing& a : after.list)
                CHECK(a.at >= cut);
        }
    }
}

TEST_CASE("altitudes that the sun never has are never crossed", "[sun]") {
    const Instant to = start_of_2026 + 365 * day;
    CHECK(found(place_at(50), {Angle::degrees(90)}, start_of_2026, to).side == Side::always_below);
    CHECK(found(place_at(50), {Angle::degrees(-90)}, start_of_2026, to).side == Side::always_above);
    CHECK(found(place_at(50), {Angle::degrees(70)}, start_of_2026, to).list.empty());
}

TEST_CASE("more crossings than there is room for are dropped, not written", "[sun]") {
    std::array<Crossing, 3> out;
    const Crossings c = crossings(year_2026(), place_at(50), rise_altitude, start_of_2026,
                                  start_of_2026 + 30 * day, out);
    CHECK(c.count == 3);
    CHECK(c.side == Side::crosses);
    const Crossings none =
        crossings(year_2026(), place_at(50), rise_altitude, start_of_2026, start_of_2026 + day, {});
    CHECK(none.count == 0);
    CHECK(none.side == Side::crosses);
}

TEST_CASE("a range without length has no crossing and the side of its start", "[sun]") {
    const Instant noon = start_of_2026 + Seconds{43200};
    const auto at_noon = found(place_at(50), rise_altitude, noon, noon);
    CHECK(at_noon.list.empty());
    CHECK(at_noon.side == Side::always_above);
}

TEST_CASE("transit comes once a day, a year long, at hour angle zero", "[sun]") {
    for (const double longitude : {-180.0, -75.3, 0.0, 137.2, 180.0}) {
        std::array<Instant, 400> noons;
        const std::size_t count = transits(year_2026(), place_at(-20, longitude), start_of_2026,
                                           start_of_2026 + 365 * day, noons);
        CHECK(count >= 364);
        CHECK(count <= 366);
        for (std::size_t i = 0; i < count; ++i) {
            const GeocentricSun sun = year_2026().at(noons[i]);
            const Angle hour_angle = wrapped_half_turn(
                sun.sidereal_time + Angle::degrees(longitude) - sun.right_ascension);
            // 1e-4 s is 0.0015 arcsec; time itself is kept to 2e-7 s
            CHECK(hour_angle.in_arcseconds() == Approx(0).margin(0.0015));
            if (i > 0) CHECK((noons[i] - noons[i - 1]).count() == Approx(86400).margin(31));
        }
    }
}

TEST_CASE("a date of 24 hours can hold two transits, one of 23 none", "[sun]") {
    const Place place = place_at(0);
    std::array<Instant, 3> noons;
    // Early September: noon comes 20 s earlier every day.
    const Instant september = start_of_2026 + 250 * day;
    REQUIRE(transits(year_2026(), place, september, september + day, noons) == 1);
    const Instant just_before = noons[0] - Seconds{5};
    CHECK(transits(year_2026(), place, just_before, just_before + day, noons) == 2);
    CHECK(transits(year_2026(), place, noons[0] + Seconds{1}, noons[0] + Seconds{3600 * 23.0},
                   noons) == 0);
}
