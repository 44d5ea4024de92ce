// What comes nearest to a key where there is none, whole.

#include <catch2/catch.hpp>

#include "key_rooms.hpp"
#include "recorded.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

void add_misses(Record& record, std::string_view label, const site::Location& location,
                site::LocalDate first, site::LocalDate last, const KeySettings& settings) {
    const OnDates on{location, first, last};
    for (const NearestMiss& miss :
         nearest_misses(on.study, on.start_of(first), on.start_of(last, 1), settings, {}))
        record.add(label, miss);
}

}  // namespace

TEST_CASE("misses in rooms thrown at random are those recorded", "[recorded][nearest_miss]") {
    Record record{"misses_thrown"};
    for (int seed = 201; seed <= 236; ++seed) {
        const ThrownRoom room{seed};
        add_misses(record, "miss", room.location, room.date, room.date, room.settings);
    }
    record.check();
}

TEST_CASE("misses by every setting are those recorded", "[recorded][nearest_miss]") {
    Record record{"misses_settings"};
    const auto d = 2026_y / 5 / 2;
    const auto add = [&](std::string_view label, const KeySettings& settings) {
        add_misses(record, label, flax_road(), d, d, settings);
    };
    KeySettings s;
    add("usual", s);
    s.as_is = true;
    add("as_is", s);
    s = all_angles(0.2);
    add("wide", s);
    s.as_is = true;
    s.near_m = 8;
    add("covers", s);
    s = all_angles();
    s.altitude_deg[0] = 60;
    add("high", s);
    s = all_angles(0.5);
    s.altitude_deg[1] = 5;
    add("low", s);
    s = all_angles(0.5);
    s.key_angle_deg[1] = 3;
    add("narrow", s);
    s = all_angles(0.5);
    s.key_angle_deg[0] = 170;
    s.altitude_deg[0] = 50;
    add("back", s);
    s = all_angles(1);
    s.window = "court window";
    add("court", s);
    s = all_angles(1);
    s.altitude_deg[0] = 60;
    add("whole", s);
    s = all_angles(1);
    s.key_angle_deg[1] = 20;
    add("whole_narrow", s);
    record.check();
}

TEST_CASE("misses of what keeps the sun out are those recorded", "[recorded][nearest_miss]") {
    Record record{"misses_kept_out"};
    const auto d = 2026_y / 3 / 10;
    const auto add = [&](std::string_view label, const site::Location& l,
                         const KeySettings& settings = {}) {
        add_misses(record, label, l, d, d, settings);
    };
    WorkedRoom worked;
    for (const room::Cover cover : {room::Cover::sheer, room::Cover::blackout}) {
        site::Location l = worked.location();
        l.room->windows[0].cover = cover;
        add("cover", l);
    }
    for (const double faces_deg : {0.0, 30.0, 90.0, 110.0, 270.0, 300.0}) {
        worked = {};
        worked.faces_deg = faces_deg;
        add("faces", worked.location());
    }
    for (const double sideways_m : {-2.5, -1.5, 1.5, 2.6}) {
        worked = {};
        worked.sideways_m = sideways_m;
        add("sideways", worked.location());
        add("wide", worked.location(), all_angles(0.9));
    }
    for (const double latitude_deg : {-60.0, 0.0, 25.0, 88.0}) {
        worked = {};
        worked.latitude_deg = latitude_deg;
        add("latitude", worked.location());
    }
    for (const double rim_deg : {10.0, 26.0, 33.0, 60.0}) {
        site::Location l = WorkedRoom{}.location();
        l.site.horizon = rim(rim_deg);
        add("rim", l);
    }
    site::Location l = WorkedRoom{}.location();
    l.room->objects = {{"screen", {{2.5, 1.2}, {3.5, 1.2}, {3.5, 1.3}, {2.5, 1.3}}, 2.2}};
    add("object", l);
    l = WorkedRoom{}.location();
    l.room->buildings = {{"house", {{-4, -12}, {9, -12}, {9, -16}, {-4, -16}}, 7}};
    add("house", l);
    l.room->buildings[0].height_m = 40;
    add("tower", l);
    l = WorkedRoom{}.location();
    l.room->windows[0].bars = {9, 9, 0.06, 0};
    add("bars", l);
    add("half", l, all_angles(0.4));
    l = WorkedRoom{}.location();
    l.room->cameras = {{"camera", {3.4, 4.5}, 1.3, 0}};
    l.room->cameras[0].view = Angle::degrees(80);
    l.room->cameras[0].view_vertical = Angle::degrees(70);
    add("frame", l, all_angles());
    add("angle", l);
    record.check();
}

TEST_CASE("misses between hours are those recorded", "[recorded][nearest_miss]") {
    Record record{"misses_hours"};
    const auto d = 2026_y / 5 / 2;
    const OnDates on{flax_road(), d, d};
    KeySettings high = all_angles();
    high.altitude_deg[0] = 60;
    for (const double hour : {5.0, 7.03, 8.0, 9.51, 11.0, 12.02, 14.0, 16.4})
        for (const double hours : {0.3, 0.04, 2.0}) {
            const Instant from = on.start_of(d) + Seconds{3600 * hour};
            for (const KeySettings& s : {all_angles(0.7), high})
                for (const NearestMiss& miss :
                     nearest_misses(on.study, from, from + Seconds{3600 * hours}, s, {}))
                    if (miss.at)
                        record.add("miss", std::pair{std::pair{miss.window, *miss.at},
                                                     std::pair{miss.coverage, miss.change}});
        }
    // What is possible at another bearing only is a miss too.
    std::vector<KeyInterval> found(3);
    found[0].mark = found[1].mark = 1;
    found[0].camera = found[1].camera = 1;
    found[1].window = 1;
    found[1].span = found[2].span = Span{};
    for (const NearestMiss& miss :
         nearest_misses(on.study, on.start_of(d), on.start_of(d, 1), {}, found))
        record.add("told", std::pair{miss.mark, miss.window});
    record.check();
}

TEST_CASE("misses over long ranges are those recorded", "[recorded][nearest_miss]") {
    Record record{"misses_long"};
    KeySettings s;
    s.altitude_deg[0] = 62;
    add_misses(record, "month", WorkedRoom{}.location(), 2026_y / 5 / 1, 2026_y / 6 / 2, s);
    add_misses(record, "fortnight", WorkedRoom{}.location(), 2026_y / 5 / 1, 2026_y / 5 / 14, s);
    add_misses(record, "longer", WorkedRoom{}.location(), 2026_y / 5 / 1, 2026_y / 5 / 15, s);
    WorkedRoom dark;
    dark.faces_deg = 330;
    s = all_angles();
    add_misses(record, "dark", dark.location(), 2026_y / 1 / 3, 2026_y / 2 / 20, s);
    dark.faces_deg = 304;
    dark.reveal_m = 1;
    add_misses(record, "deep", dark.location(), 2026_y / 1 / 3, 2026_y / 2 / 20, s);
    // Sun for some minutes of a date, which steps of twenty minutes pass over.
    for (const double gap_m : {0.05, 0.02}) {
        site::Location gap = behind_gap(gap_m, 0);
        gap.room->windows[0].left_m = 2.9;
        gap.room->windows[0].width_m = 0.2;
        for (const int days : {14, 21, 40})
            add_misses(record, "gap", gap, 2026_y / 3 / 10,
                       site::LocalDate{date::sys_days{2026_y / 3 / 10} + date::days{days}},
                       all_angles(1));
    }
    for (int seed = 241; seed <= 264; ++seed) {
        const ThrownRoom room{seed};
        const site::LocalDate last{date::sys_days{room.date} + date::days{10 + seed % 5 * 9}};
        add_misses(record, "thrown", room.location, room.date, last, room.settings);
    }
    record.check();
}
