// What is proposed to be observed next, in four rooms, whole.

#include <algorithm>
#include <catch2/catch.hpp>
#include <tuple>

#include "flax_road.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/next_observation.hpp"
#include "read/location_file.hpp"
#include "read/observation_file.hpp"
#include "recorded.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

Instant utc_noon(const std::string& day) {
    const auto t = site::read_utc(day + "T12:00Z");
    REQUIRE(t);
    return *t;
}

site::Location location_of(const std::string& name) {
    auto read = read::read_location(KEYHOUR_LOCATIONS "/" + name + ".toml");
    REQUIRE(read);
    return *std::move(read);
}

Observation compass(std::size_t wall, const room::Room& room, double within_deg) {
    return {"compass", "",
            WallBearing{wall, room::wall_faces(room, wall).from_north, std::nullopt,
                        Angle::degrees(within_deg)}};
}

/// What a day offers beside the observations: the most helpful first, here by wall and kind, as two
/// walls that are parallel are equally helpful.
std::vector<NextObservation> next_on(const site::Location& location, const std::string& day,
                                     const std::vector<Observation>& seen, double hours = 12,
                                     double clock_within_s = 30) {
    const Instant noon = utc_noon(day);
    const auto track = SharedTrack::make(noon - Seconds{4 * 86400}, noon + Seconds{4 * 86400});
    const auto answer =
        bearing_of_wall(location, SunPath{location.site, track}, {1, seen, 30, true});
    REQUIRE(answer);
    const RoomStudy study{location, track};
    auto next = next_observations(study, *answer, clock_within_s, noon - Seconds{3600 * hours},
                                  noon + Seconds{3600 * hours});
    CHECK(std::ranges::is_sorted(next, {}, &NextObservation::sigma_after_deg));
    std::ranges::sort(next, {}, [](const NextObservation& n) {
        return std::tuple{n.index, n.kind, n.at.unix_s()};
    });
    return next;
}

}  // namespace

TEST_CASE("what is to be observed next is what was recorded", "[recorded][next_observation]") {
    Record record{"next_observation"};
    const auto add = [&](const std::string& label, const std::vector<NextObservation>& all) {
        record.add(label, all);
    };
    const site::Location press = location_of("tallow-lane"), flax = flax_road();
    add("press", next_on(press, "2026-02-10", {compass(0, *press.room, 5)}, 8));
    add("flax", next_on(flax, "2026-12-20", {compass(1, *flax.room, 2)}, 12, 90));
    // A site without a sun, one where it goes round, one where it passes the zenith.
    site::Location moved = press;
    moved.site.observer.latitude = Angle::degrees(78);
    add("dark", next_on(moved, "2026-12-20", {compass(0, *press.room, 5)}));
    moved.site.observer.latitude = Angle::degrees(2);
    add("tropic", next_on(moved, "2026-03-20", {compass(0, *press.room, 5)}, 7));
    record.check();
}

TEST_CASE("without a window that lets sun in a plumb line is proposed, as recorded",
          "[recorded][next_observation]") {
    Record record{"next_plumb_line"};
    site::Location dark = location_of("tallow-lane");
    dark.room->windows.clear();
    const double level = 5, steep = 86;
    for (const char* day : {"2026-01-05", "2026-04-12", "2026-06-21"})
        record.add("press", next_on(dark, day, {compass(0, *dark.room, level)}));
    // At noon the sun stands so high that a line throws no shadow worth measuring.
    dark.site.observer.latitude = Angle::degrees(steep - 62);
    for (const double hours : {0.04, 0.2, 1.0, 2.0, 6.0})
        record.add("high", next_on(dark, "2026-06-21", {compass(0, *dark.room, level)}, hours));
    record.check();
}

TEST_CASE("short shadows of small and of high windows are proposed as recorded",
          "[recorded][next_observation]") {
    Record record{"next_short_shadows"};
    site::Location small = location_of("tallow-lane");
    small.room->windows.resize(2);
    for (room::Window& w : small.room->windows) {
        w.bars = {};
        w.height_m = 0.5;
        w.width_m = 0.4;
    }
    for (const char* day : {"2026-02-10", "2026-04-12", "2026-06-21"})
        record.add("small", next_on(small, day, {compass(0, *small.room, 4)}, 5));
    // The lower it is, the shorter; by and by none is worth measuring.
    for (const double height : {0.45, 0.4, 0.35, 0.3, 0.25, 0.2, 0.15, 0.1})
        for (const char* day : {"2026-02-10", "2026-04-12"}) {
            small.room->windows[0].height_m = small.room->windows[1].height_m = height;
            record.add("lower", next_on(small, day, {compass(0, *small.room, 4)}, 3.3));
        }
    record.check();
}

TEST_CASE("in a room without a right angle what was recorded is proposed",
          "[recorded][next_observation]") {
    Record record{"next_askew"};
    site::Location askew = location_of("tallow-lane");
    askew.room->floor = {{0, 0.7}, {7.2, 0}, {6.1, 4.6}, {-0.6, 3.9}};
    for (const double faces : {196.0, 20.0, 75.0, 240.0})
        for (const char* day : {"2026-02-10", "2026-06-21"}) {
            askew.room->bearing.faces = Angle::degrees(faces);
            record.add("askew", next_on(askew, day, {compass(0, *askew.room, 4)}, 7.5));
        }
    record.check();
}

TEST_CASE("over higher and higher skylines and beside a table what was recorded is proposed",
          "[recorded][next_observation]") {
    Record record{"next_over_skylines"};
    site::Location press = location_of("tallow-lane");
    const auto flat = [&](double deg) {
        press.site.horizon = site::Horizon{
            {{Angle::degrees(0), Angle::degrees(deg)}, {Angle::degrees(180), Angle::degrees(deg)}}};
        return next_on(press, "2026-02-10", {compass(0, *press.room, 4)}, 6);
    };
    for (double deg = 10; deg < 24; deg += 0.7)
        record.add("flat", flat(deg));
    flat(0);
    // Most of the sun falls on a table, where nobody draws along a shadow on the floor.
    room::Object table{"table", {{0.3, 0.3}, {6.9, 0.3}, {6.9, 3.4}, {0.3, 3.4}}, 0.6};
    press.room->objects = {table};
    for (const char* day : {"2026-01-10", "2026-03-10", "2026-05-10"})
        record.add("table", next_on(press, day, {compass(0, *press.room, 4)}, 4));
    record.check();
}

TEST_CASE("beside what is there already the next is worth what was recorded",
          "[recorded][next_observation]") {
    Record record{"next_beside_others"};
    const site::Location press = location_of("tallow-lane");
    const auto file =
        read::read_observations(KEYHOUR_LOCATIONS "/tallow-lane-recce/observations.toml", press);
    REQUIRE(file);
    record.add("recce", next_on(press, "2026-02-10", file->observations, 7));
    // One that does not fit the others is left out; two that differ widen the doubt.
    auto seen = file->observations;
    std::get<WallBearing>(seen[0].what).faces = Angle::degrees(160);
    record.add("wild", next_on(press, "2026-02-10", seen, 4));
    std::vector<Observation> two{compass(0, *press.room, 2), compass(0, *press.room, 2)};
    std::get<WallBearing>(two[1].what).faces =
        std::get<WallBearing>(two[1].what).faces + Angle::degrees(6);
    record.add("two", next_on(press, "2026-02-10", two, 4));
    record.check();
}
