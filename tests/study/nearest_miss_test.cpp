// Why there is no key, in rooms where it is plain.

#include <date/date.h>

#include <catch2/catch.hpp>

#include "flax_road.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/clean_key.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

NearestMiss miss_of(const site::Location& l, site::LocalDate first, site::LocalDate last,
                    const KeySettings& settings = {}) {
    const OnDates room{l, first, last};
    const auto misses =
        nearest_misses(room.study, room.start_of(first), room.start_of(last, 1), settings, {});
    REQUIRE(misses.size() == 1);
    return misses[0];
}

site::Location valley(double skyline_deg) {
    site::Location l = WorkedRoom{}.location();
    l.site.horizon = site::Horizon{{{Angle::degrees(0), Angle::degrees(skyline_deg)},
                                    {Angle::degrees(180), Angle::degrees(skyline_deg)}}};
    return l;
}

}  // namespace

TEST_CASE("a sun that never comes in is told by what keeps it out", "[key]") {
    const auto day = 2026_y / 1 / 10;
    const auto reason = [&](const site::Location& l) { return miss_of(l, day, day).reason; };
    WorkedRoom north;
    north.faces_deg = 0;
    CHECK(reason(north.location()).find("never comes round to this wall") != std::string::npos);
    WorkedRoom polar;
    polar.latitude_deg = 80;
    CHECK(reason(polar.location()) == "the sun stays below the horizon");
    CHECK(reason(valley(60)) == "the sun stays behind the skyline while it faces this wall");
    site::Location walled = WorkedRoom{}.location();
    walled.room->buildings = {{"wall", {{-50, -1}, {56, -1}, {56, -2}, {-50, -2}}, 100}};
    CHECK(reason(walled) == "no direct sun enters: reveal or buildings keep it out");
    for (const NearestMiss& m : {miss_of(valley(60), day, day), miss_of(walled, day, day)}) {
        CHECK_FALSE(m.at);
        CHECK(m.coverage == 0);
    }
}

TEST_CASE("over a long range what comes nearest is what each of its dates comes nearest to",
          "[key]") {
    // A key in the worked room wants a sun above 60 degrees here, which it has at midsummer alone.
    KeySettings settings;
    settings.altitude_deg[0] = 70;
    settings.altitude_deg[1] = 90;
    const site::Location l = WorkedRoom{}.location();
    const auto first = 2026_y / 2 / 1, last = 2026_y / 3 / 10;
    const NearestMiss over = miss_of(l, first, last, settings);
    REQUIRE(over.at);
    NearestMiss best;
    for (site::LocalDate d = first; d <= last; d = site::next_day(d)) {
        const NearestMiss of_date = miss_of(l, d, d, settings);
        if (!best.at || is_nearer(of_date, best)) best = of_date;
    }
    REQUIRE(best.at);
    CHECK(over.change == Approx(best.change).margin(0.5));
    REQUIRE(over.shortfalls.size() >= 1);
    double change = 0;
    for (const Shortfall& s : over.shortfalls)
        change += s.change();
    CHECK(change == Approx(over.change).margin(0.01));
}

TEST_CASE("a miss is nearer by being there at all, then by its change, then by what is lit",
          "[key]") {
    NearestMiss never, little, much;
    little.at = much.at = Instant::from_unix_s(0);
    little.change = 3;
    much.change = 8;
    CHECK(is_nearer(much, never));
    CHECK_FALSE(is_nearer(never, much));
    CHECK(is_nearer(little, much));
    CHECK_FALSE(is_nearer(much, little));
    NearestMiss lit = little;
    lit.coverage = 0.5;
    CHECK(is_nearer(lit, little));
    CHECK_FALSE(is_nearer(little, lit));
    CHECK_FALSE(is_nearer(little, little));
}

TEST_CASE("a shortfall's change is degrees, or percent of the mark", "[key]") {
    CHECK(Shortfall{Shortfall::Of::coverage, 0.6, 0.95}.change() == Approx(35));
    CHECK(Shortfall{Shortfall::Of::altitude, 12, 20}.change() == Approx(8));
    CHECK(Shortfall{Shortfall::Of::key_angle, 130, 110}.change() == Approx(20));
}
