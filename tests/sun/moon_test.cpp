// The moon's risings where they are hard to see, and the ends of what is served. Where it stands:
// moon_published_test.

#include "keyhour/sun/moon.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "keyhour/sun/geocentric.hpp"
#include "keyhour/sun/track.hpp"

using namespace keyhour;
using namespace keyhour::sun;

namespace {

struct Day {
    Instant from, to;
    std::vector<TrackNode> nodes;
    explicit Day(double unix_s)
        : from{Instant::from_unix_s(unix_s)},
          to{from + Seconds{86400}},
          nodes(Track::nodes_needed(from - Seconds{7200}, to + Seconds{7200})) {}
    [[nodiscard]] Track track() {
        return *Track::build(from - Seconds{7200}, to + Seconds{7200}, nodes);
    }
};

/// The upper limb over the almanacs' horizon, by the moon's place alone, in degrees.
double limb_deg(const Track& track, const Place& place, Instant t) {
    const MoonPosition moon = moon_position(place, geocentric_moon(t, track.vector(t)));
    return moon.true_altitude.above_horizon.in_degrees() + 34.0 / 60 +
           moon.semi_diameter.in_degrees();
}

/// Every change of side, by a walk of 90 s steps.
std::vector<Instant> walked(const Track& track, const Place& place, const Day& day) {
    std::vector<Instant> changes;
    constexpr double step_s = 90;
    bool above = limb_deg(track, place, day.from) >= 0;
    for (Instant t = day.from + Seconds{step_s}; t <= day.to; t = t + Seconds{step_s}) {
        const bool now = limb_deg(track, place, t) >= 0;
        if (now != above) changes.push_back(t);
        above = now;
    }
    return changes;
}

/// One place on one day: what is told is what the walk finds.
class Judge {
public:
    explicit Judge(double unix_s) : day_{unix_s}, track_{day_.track()} {}

    /// @return how many changes of side there are
    std::size_t operator()(double latitude) {
        const Place place{Observer{Angle::degrees(latitude), Angle::degrees(20), 0}};
        const std::vector<Instant> expected = walked(track_, place, day_);
        bool too_short = false;  // moon.hpp promises none of some minutes
        for (std::size_t i = 1; i < expected.size(); ++i) {
            const double apart = (expected[i] - expected[i - 1]).count();
            too_short = too_short || apart < 600;
            if (apart >= 600 && apart < 3600) ++short_visits;
        }
        if (too_short) return expected.size();
        std::array<Crossing, 8> found{};
        const Crossings c = moon_crossings(track_, place, day_.from, day_.to, found);
        CAPTURE(day_.from.unix_s(), latitude);
        REQUIRE(c.count == expected.size());
        for (std::size_t i = 0; i < c.count; ++i)
            CHECK(std::fabs((found[i].at - expected[i]).count() + 45) < 46);
        if (c.count > 0) {
            CHECK(c.side == Side::crosses);
        } else {
            ++days_without;
            CHECK(c.side == (limb_deg(track_, place, day_.from) >= 0 ? Side::always_above
                                                                     : Side::always_below));
        }
        return c.count;
    }

    int short_visits = 0, days_without = 0;

private:
    Day day_;
    Track track_;
};

}  // namespace

TEST_CASE("a moon that shows itself for less than an hour is seen to rise and set", "[moon]") {
    // From latitudes where it just comes over the horizon to those where it just does not.
    int short_visits = 0, days_without = 0;
    for (const double unix_s : {1767657600.0, 1768694400.0, 1783987200.0, 1785283200.0}) {
        Judge judge{unix_s};
        std::size_t before = judge(60);
        for (double latitude = 60.1; latitude < 67; latitude += 0.1) {
            const std::size_t now = judge(latitude);
            for (int part = 1; part < 16 && now != before; ++part)
                judge(latitude - 0.1 * part / 16);
            before = now;
        }
        short_visits += judge.short_visits;
        days_without += judge.days_without;
    }
    CHECK(short_visits >= 8);
    CHECK(days_without >= 20);
}

TEST_CASE("a moonrise for which there is no room is left out", "[moon]") {
    Day day{1768694400};
    const Track track = day.track();
    const Place place{Observer{Angle::degrees(45), {}, 0}};
    std::array<Crossing, 3> all{}, few{};
    const Instant never = Instant::from_unix_s(0);
    for (Crossing& c : few)
        c.at = never;
    REQUIRE(moon_crossings(track, place, day.from, day.to, all).count == 2);
    const Crossings c =
        moon_crossings(track, place, day.from, day.to, std::span{few}.subspan(0, 1));
    CHECK(c.count == 1);
    CHECK(few[0].at == all[0].at);
    CHECK(few[1].at == never);
}

TEST_CASE("no quarter is told that falls beyond the years served", "[moon]") {
    const Instant end = Instant::from_unix_s(7258118400);  // 2200-01-01
    REQUIRE(is_served(end - Seconds{1}));
    REQUIRE(!is_served(end + Seconds{1}));
    int without = 0;
    for (int hours = 1; hours < 24 * 9; hours += 5) {
        const Instant t = end - Seconds{3600.0 * hours};
        const auto next = next_quarter(t);
        if (!next) {
            ++without;
            continue;
        }
        CHECK(is_served(next->at));
        CHECK(next->at > t);
    }
    CHECK(without > 0);
    CHECK(without < 40);
    CHECK(!next_quarter(end + Seconds{86400}));
}

TEST_CASE("elongation and phase angle close the triangle of Earth, moon and sun", "[moon]") {
    for (int day = 0; day < 30; day += 2) {
        const Instant t = Instant::from_unix_s(1767225600 + 86400.0 * day);
        const ApparentVector sun = apparent_vector(t);
        const GeocentricMoon moon = geocentric_moon(t, sun);
        // Law of cosines, with the third side from the two places.
        const double to_sun = std::hypot(sun.x, sun.y, sun.z);
        const double to_moon = std::hypot(moon.vector.x, moon.vector.y, moon.vector.z);
        const double across =
            std::hypot(sun.x - moon.vector.x, sun.y - moon.vector.y, sun.z - moon.vector.z);
        const double cosine =
            (to_sun * to_sun + to_moon * to_moon - across * across) / (2 * to_sun * to_moon);
        CHECK(std::cos(moon.elongation.in_radians()) == Approx(cosine).margin(1e-9));
        const double at_moon =
            (across * across + to_moon * to_moon - to_sun * to_sun) / (2 * across * to_moon);
        CHECK(std::cos(moon.phase_angle.in_radians()) == Approx(at_moon).margin(1e-9));
        // Near enough: the elongation is the difference of longitudes, but for the moon's latitude.
        const double apart = wrapped_half_turn(moon.longitude_from_sun).in_degrees();
        CHECK(std::fabs(std::fabs(apart) - moon.elongation.in_degrees()) < 5.4);
    }
}
