// The sun's way: moments, turns, frames of the sky, bearings and seasons.

#include <catch2/catch.hpp>

#include "keyhour/study/seasonal_study.hpp"
#include "keyhour/study/sun_turns.hpp"
#include "lamp_places.hpp"
#include "recorded.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

const Instant kFrom = Instant::from_unix_s(1774000000), kTo = kFrom + Seconds{3 * 86400};

std::vector<site::Location> far_apart() {
    std::vector<site::Location> all{place_read("tallow-lane"), place_read("flax-road"),
                                    place_at(89.9, 100, "UTC0"), place_at(-60, -70, "UTC0")};
    all[3].site.observer.elevation_m = 8000;
    all[3].site.weather = {700, 35};
    return all;
}

}  // namespace

TEST_CASE("moments of the sun are those recorded", "[recorded][sun_path]") {
    Record record{"sun_path"};
    const auto shared = SharedTrack::make(kFrom, kTo);
    REQUIRE(shared);
    for (const site::Location& l : far_apart()) {
        const SunPath path{l.site, shared};
        record.add("ends", std::pair{path.from(), path.to()});
        for (const Seconds step : {Seconds{7200}, Seconds{7000}})
            for (const Moment& m : path.samples(kFrom, kFrom + Seconds{86400}, step))
                record.add("moment", m);
        record.add("none_long", path.samples(kFrom, kFrom, Seconds{60}));
        for (const double day : {-60.0, -1.0, 0.0, 1.3, 3.0, 4.5, 60.0})
            record.add("vector", path.vector(kFrom + Seconds{86400 * day}));
        record.add("position", path.position(kFrom + Seconds{40000}));
    }
    record.check();
}

TEST_CASE("no track reaches outside the years served", "[sun_path]") {
    CHECK_FALSE(SharedTrack::make(Instant::from_unix_s(-6e9), Instant::from_unix_s(-5.9e9)));
    CHECK(SharedTrack::make(kFrom, kTo)->track().to() >= kTo);
}

TEST_CASE("turns of the sun are those recorded", "[recorded][sun_turns]") {
    Record record{"sun_turns"};
    const auto shared = SharedTrack::make(kFrom - Seconds{3 * 86400}, kTo + Seconds{3 * 86400});
    for (const site::Location& l : far_apart()) {
        const SunPath path{l.site, shared};
        for (const double days : {0.0, 0.3, 2.5})
            for (const SunTurn& turn : sun_turns(path, kFrom, kFrom + Seconds{86400 * days})) {
                record.add("way",
                           std::vector(std::begin(turn.declination), std::end(turn.declination)));
                record.add("time", std::vector(std::begin(turn.time_s), std::end(turn.time_s)));
                record.add("ends", std::pair{turn.begins, std::pair{turn.lowest, turn.highest}});
                const double pi = std::numbers::pi;
                const double begins = turn.declination_at(-pi), moved = turn.declination_at(pi);
                for (const double h : {-3.0, -1.0, 0.0, 2.0}) {
                    record.add("at", std::pair{turn.declination_at(h), turn.time_at(h)});
                    // What the cubic adds to a straight line: arcseconds, and seconds.
                    const double share = (h + pi) / (2 * pi);
                    record.add("bent", std::pair{206265 * (turn.declination_at(h) - begins -
                                                           share * (moved - begins)),
                                                 (turn.time_at(h) - turn.begins).count() -
                                                     share * turn.time_at(pi).unix_s() +
                                                     share * turn.begins.unix_s()});
                }
            }
        const SkyFrame frame{path};
        for (const double apparent : {-0.1, -0.01, 0.0, 0.005, 0.3, 1.2}) {
            const SkyFrame::Height height = frame.height(apparent);
            record.add("height", height);
            for (const double azimuth : {0.0, 0.7, 2.0, 3.5, 5.5}) {
                record.add("point", frame.point(azimuth, height));
                record.add("sine", frame.sine_of_declination(std::cos(azimuth), height));
            }
        }
    }
    record.check();
}

TEST_CASE("turns of the sun lie on its path, and follow each other", "[sun_turns]") {
    // The path itself is held to ERFA by the sun's tests; the header promises 0.01 s and 0.1".
    const auto shared = SharedTrack::make(kFrom - Seconds{3 * 86400}, kTo + Seconds{3 * 86400});
    for (const site::Location& l : far_apart()) {
        const SunPath path{l.site, shared};
        const auto turns = sun_turns(path, kFrom, kTo);
        REQUIRE(turns.size() >= 4);
        CHECK(turns.front().begins <= kFrom);
        CHECK(turns.back().time_at(std::numbers::pi) >= kTo);
        for (std::size_t i = 0; i < turns.size(); ++i) {
            for (double h = -3.1; h < 3.14; h += 0.31) {
                const sun::ApparentVector v = path.vector(turns[i].time_at(h));
                const double there = std::remainder(2 * std::numbers::pi * v.sidereal_turns +
                                                        l.site.observer.longitude.in_radians() -
                                                        std::atan2(v.y, v.x) - h,
                                                    2 * std::numbers::pi);
                CHECK(there * 86400 / (2 * std::numbers::pi) == Approx(0).margin(0.01));
                const double declination = std::atan2(v.z, std::hypot(v.x, v.y));
                CHECK(turns[i].declination_at(h) == Approx(declination).margin(0.1 / 206265));
                CHECK(declination >= turns[i].lowest);
                CHECK(declination <= turns[i].highest);
            }
            if (i > 0)
                CHECK((turns[i].begins - turns[i - 1].time_at(std::numbers::pi)).count() ==
                      Approx(0).margin(0.01));
        }
    }
}

TEST_CASE("bearings within the doubt are those recorded", "[recorded][bearings]") {
    Record record{"bearings"};
    site::Location l = place_read("flax-road");
    const auto turns = [](const std::vector<room::PlanTurn>& all) {
        std::vector<room::Point3> east;
        for (const room::PlanTurn& turn : all)
            east.push_back(turn.to_plan({1, 0, 0}));
        return east;
    };
    for (const double within_deg : {0.0, 0.2, 0.5, 0.51, 1.0, 2.0, 2.1, 4.0, 6.3}) {
        l.room->bearing.within = Angle::degrees(within_deg);
        const Bearings b{*l.room};
        record.add("stated", turns({b.stated}));
        record.add("all", turns(b.all));
        record.add("some", turns(b.some));
    }
    record.check();
}

TEST_CASE("the room of a date is that of its season", "[recorded][seasons]") {
    Record record{"seasons"};
    site::Location l = place_read("tallow-lane");
    for (const auto& [name, first, last] : {std::tuple{"lime", 5U, 10U}, {"holly", 11U, 2U}}) {
        site::Tree tree;
        tree.name = name;
        tree.footprint = site::round_crown({3.5, -9}, 6);
        tree.height_m = 12;
        tree.first_leaf = date::month{first};
        tree.last_leaf = date::month{last};
        l.trees.push_back(tree);
    }
    const site::LocalDate first = 2026_y / 1 / 5, last = 2026_y / 12 / 20;
    const auto shared = SharedTrack::make(kFrom, kTo);
    const SeasonalStudy seasons{l, shared, first, last};
    for (const auto& stretch : seasons.stretches())
        record.add("season", stretch->season);
    const auto place = [&](const RoomStudy& study) {
        const auto found = std::ranges::find_if(seasons.stretches(),
                                                [&](const auto& s) { return &s->study == &study; });
        return found - seasons.stretches().begin();
    };
    for (const site::LocalDate d :
         {site::LocalDate{2025_y / 12 / 1}, first, site::LocalDate{2026_y / 2 / 28},
          site::LocalDate{2026_y / 3 / 1}, site::LocalDate{2026_y / 4 / 30},
          site::LocalDate{2026_y / 5 / 1}, site::LocalDate{2026_y / 11 / 1}, last,
          site::LocalDate{2027_y / 7 / 1}}) {
        record.add("on", std::pair{d, place(seasons.on(d))});
        // Half an hour before and after midnight of London, which in summer is not that of UTC.
        const Instant midnight = l.site.zone.start_of(d);
        record.add("at", std::pair{place(seasons.at(midnight - Seconds{1800})),
                                   place(seasons.at(midnight + Seconds{1800}))});
    }
    const RoomStudy& study = seasons.on(first);
    record.add("cameras", study.cameras_of(0));
    record.add("no_camera", study.cameras_of(7));
    record.add("centres", study.centres().room().marks);
    record.add("found", study.found() == nullptr);
    record.check();
}

TEST_CASE("an instant about the sun's lowest point lies in a turn that is told", "[sun_turns]") {
    // Late in December the sun comes round half a minute later each day, in September as much
    // earlier (the equation of time).
    for (const double unix_s : {1797800000.0, 1789400000.0}) {
        const Instant day = Instant::from_unix_s(unix_s);
        const auto shared = SharedTrack::make(day - Seconds{5 * 86400}, day + Seconds{5 * 86400});
        const site::Location place = place_at(10, 0, "UTC0");
        const SunPath path{place.site, shared};
        const auto turns = sun_turns(path, day, day);
        REQUIRE_FALSE(turns.empty());
        for (double off_s = -100; off_s <= 100; off_s += 5)
            for (const double days : {0.0, 1.0}) {
                const Instant at = turns[0].begins + Seconds{off_s};
                const auto around = sun_turns(path, at, at + Seconds{86400 * days});
                REQUIRE_FALSE(around.empty());
                CHECK(around.front().begins <= at);
                CHECK(around.back().time_at(std::numbers::pi) >= at + Seconds{86400 * days});
            }
    }
}
