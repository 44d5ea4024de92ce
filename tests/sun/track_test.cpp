#include "keyhour/sun/track.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>
#include <vector>

using namespace keyhour;
using namespace keyhour::sun;

namespace {

constexpr double arcsec_per_radian = 206264.80624709636;

Instant start_of_year(double year) {
    return Instant::from_unix_s((year - 1970) * 365.2425 * 86400);
}

}  // namespace

TEST_CASE("the track misses the series by less than 0.01 arcsec, leap seconds included", "[sun]") {
    std::mt19937_64 engine{6};
    // Years with and without leap seconds, the join of 1972, and both ends of what is served.
    for (const double year :
         {1800.01, 1850.0, 1941.5, 1971.5, 1972.2, 1998.6, 2016.5, 2026.0, 2198.99}) {
        const Instant from = start_of_year(year), to = from + Seconds{366 * 86400.0};
        std::vector<TrackNode> nodes(Track::nodes_needed(from, to));
        const auto track = Track::build(from, to, nodes);
        REQUIRE(track);
        std::uniform_real_distribution<double> within{0, 366 * 86400.0};
        double worst = 0, worst_turn = 0, worst_rate = 0, worst_turning = 0;
        for (int i = 0; i < 4000; ++i) {
            const Instant t = i == 0 ? from : i == 1 ? to : from + Seconds{within(engine)};
            const ApparentVector read = track->vector(t), exact = apparent_vector(t);
            worst =
                std::max(worst, std::hypot(read.x - exact.x, read.y - exact.y, read.z - exact.z));
            worst_turn = std::max(
                worst_turn,
                std::fabs(std::remainder(read.sidereal_turns - exact.sidereal_turns, 1.0)));
            if (t > to - Seconds{20}) continue;
            const ApparentMotion motion = track->motion(t);
            CHECK(motion.at.x == read.x);
            const ApparentVector later = track->vector(t + Seconds{10});
            for (const double off :
                 {(later.x - read.x) / 10 - motion.rate.x, (later.y - read.y) / 10 - motion.rate.y,
                  (later.z - read.z) / 10 - motion.rate.z})
                worst_rate = std::max(worst_rate, std::fabs(off));
            const double turned = std::remainder(later.sidereal_turns - read.sidereal_turns, 1.0);
            worst_turning =
                std::max(worst_turning, std::fabs(turned / 10 - motion.rate.sidereal_turns));
        }
        CAPTURE(year);
        CHECK(worst * arcsec_per_radian < 0.001);  // what track.hpp promises of the nodes
        CHECK(worst_turn * 1296000 < 0.001);
        // 1e-6 of the speed, 2e-7 au/s; a leap second within the ten shows as 2e-8.
        CHECK(worst_rate < 3e-8);
        CHECK(worst_turning < 1e-11);  // a millionth of the Earth's own
    }
}

TEST_CASE("a track of angles is the series' angles", "[sun]") {
    const Instant from = start_of_year(2026), to = from + Seconds{5 * 86400.0};
    std::vector<TrackNode> nodes(Track::nodes_needed(from, to));
    REQUIRE(nodes.size() == 1);
    const auto track = Track::build(from, to, nodes);
    const Instant t = from + Seconds{200000};
    const GeocentricSun read = track->at(t), exact = geocentric_sun(t);
    CHECK((read.right_ascension - exact.right_ascension).in_arcseconds() == Approx(0).margin(0.01));
    CHECK((read.declination - exact.declination).in_arcseconds() == Approx(0).margin(0.01));
    CHECK((read.sidereal_time - exact.sidereal_time).in_arcseconds() == Approx(0).margin(0.01));
    CHECK((read.equation_of_time - exact.equation_of_time).in_arcseconds() ==
          Approx(0).margin(0.02));
    CHECK(read.distance_au == Approx(exact.distance_au).epsilon(1e-8));
}

TEST_CASE("even steps give what single instants give", "[sun]") {
    const Instant from = start_of_year(2026), to = from + Seconds{20 * 86400.0};
    std::vector<TrackNode> nodes(Track::nodes_needed(from, to));
    const auto track = Track::build(from, to, nodes);
    const Place place{{Angle::degrees(61), Angle::degrees(25), 100}};
    for (const std::size_t count :
         {std::size_t{0}, std::size_t{1}, std::size_t{2}, std::size_t{577}}) {
        std::vector<Horizontal> out(count);
        track->horizontals(place, from, Seconds{3000}, out);
        for (std::size_t i = 0; i < count; ++i) {
            const Horizontal one =
                track->horizontal(place, from + static_cast<double>(i) * Seconds{3000});
            REQUIRE(out[i].azimuth == one.azimuth);
            REQUIRE(out[i].true_altitude == one.true_altitude);
            REQUIRE(out[i].apparent_altitude == one.apparent_altitude);
        }
    }
}

TEST_CASE("a range that is not served or not a range has no track", "[sun]") {
    const Instant t = start_of_year(2026);
    std::vector<TrackNode> nodes(10);
    CHECK(Track::nodes_needed(t, t) == 0);
    CHECK(Track::nodes_needed(t, t - Seconds{1}) == 0);
    CHECK(Track::nodes_needed(first_instant - Seconds{1}, t) == 0);
    CHECK(Track::nodes_needed(t, last_instant + Seconds{1}) == 0);
    CHECK_FALSE(Track::build(t, t, nodes));
    CHECK_FALSE(Track::build(t, last_instant + Seconds{1}, nodes));
}

TEST_CASE("too few nodes make no track", "[sun]") {
    const Instant from = start_of_year(2026), to = from + Seconds{30 * 86400.0};
    std::vector<TrackNode> nodes(Track::nodes_needed(from, to) - 1);
    CHECK_FALSE(Track::build(from, to, nodes));
}
