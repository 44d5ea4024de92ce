// The keys of rooms of every kind, whole.

#include <catch2/catch.hpp>

#include "../../src/study/key_criterion.hpp"
#include "../../src/study/key_parts.hpp"
#include "../../src/study/key_regions.hpp"
#include "key_rooms.hpp"
#include "keyhour/study/best_key.hpp"
#include "keyhour/study/key_light.hpp"
#include "recorded.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

/// Every key that starts on the dates, described.
void add_keys(Record& record, std::string_view label, const site::Location& location,
              site::LocalDate first, site::LocalDate last, const KeySettings& settings) {
    const OnDates on{location, first, last};
    for (KeyInterval& key :
         clean_key(on.study, on.start_of(first), on.start_of(last, 1), settings)) {
        describe(on.study, settings, key);
        record.add(label, key);
    }
}

}  // namespace

TEST_CASE("keys are those recorded", "[recorded][clean_key]") {
    Record record{"keys"};
    for (const site::LocalDate d :
         {2026_y / 3 / 20, 2026_y / 6 / 21, 2026_y / 10 / 25, 2026_y / 12 / 21}) {
        const OnDates on{flax_road(), d, d};
        const RoomLight light{on.study};
        auto keys = clean_key(on.study, on.start_of(d), on.start_of(d, 1));
        for (KeyInterval& key : keys) {
            describe(on.study, {}, key);
            record.add("key", key);
            if (key.span) record.add("light", key_light(on.study, light, key));
        }
        for (const NearestMiss& miss :
             nearest_misses(on.study, on.start_of(d), on.start_of(d, 1), {}, keys))
            record.add("miss", miss);
    }
    record.check();
}

TEST_CASE("keys of rooms thrown at random are those recorded", "[recorded][clean_key]") {
    Record record{"keys_thrown"};
    for (int seed = 1; seed <= 40; ++seed) {
        const ThrownRoom room{seed};
        record.add("seed", seed);
        add_keys(record, "key", room.location, room.date, room.date, room.settings);
    }
    record.check();
}

TEST_CASE("keys of ranges of dates are those recorded", "[recorded][clean_key]") {
    Record record{"keys_ranges"};
    add_keys(record, "tallow", example("tallow-lane"), 2026_y / 2 / 20, 2026_y / 2 / 24, {});
    add_keys(record, "sundet", example("sundet"), 2026_y / 9 / 1, 2026_y / 9 / 3, {});
    add_keys(record, "bindery", example("bindery-and-wharf/bindery"), 2026_y / 3 / 28,
             2026_y / 3 / 30, all_angles(0.5));
    for (const int seed : {101, 102, 103}) {
        const ThrownRoom room{seed};
        add_keys(record, "thrown", room.location, 2026_y / 4 / 3, 2026_y / 4 / 6, all_angles(0.8));
    }
    record.check();
}

TEST_CASE("keys that run when they are asked for are those recorded", "[recorded][clean_key]") {
    Record record{"keys_begun"};
    const auto d = 2026_y / 3 / 10;
    WorkedRoom turned;
    turned.faces_deg = 141;
    turned.within_deg = 9;  // possible at another bearing only
    for (const WorkedRoom& room : {WorkedRoom{}, turned}) {
        const site::Location l = room.location();
        const OnDates on{l, d, d};
        const auto whole = clean_key(on.study, on.start_of(d), on.start_of(d, 1));
        REQUIRE(whole.size() == 1);
        const Instant begins = whole[0].span ? whole[0].span->from : whole[0].possible.from;
        for (const double after_s : {-90000.0, -600.0, -0.5, 0.5, 300.0, 7000.0, 7500.0}) {
            const Instant from = begins + Seconds{after_s};
            for (const double for_s : {0.25, 3600.0, 90000.0})
                for (const KeyInterval& k : clean_key(on.study, from, from + Seconds{for_s}))
                    record.add("from", std::pair{after_s, k.possible});
            const RoomStudy begun{l, SharedTrack::make(from, from + Seconds{2 * 86400.0})};
            for (const KeyInterval& k : clean_key(begun, from, from + Seconds{86400}))
                record.add("track", std::pair{after_s, k.possible});
        }
    }
    record.check();
}

TEST_CASE("keys by every setting are those recorded", "[recorded][clean_key]") {
    Record record{"keys_settings"};
    const auto d = 2026_y / 5 / 2;
    const auto add = [&](std::string_view label, const KeySettings& settings) {
        record.add(label, settings.coverage);
        add_keys(record, label, flax_road(), d, d, settings);
    };
    KeySettings s;
    s.mark = "block";
    add("mark", s);
    s = {};
    s = all_angles(0.3);
    s.camera = "B";
    add("camera", s);
    s.camera = "A";
    s.mark = "curling bench";
    add("other_camera", s);
    s = all_angles(0.3);
    s.window = "bench window";
    add("window", s);
    s = {};
    s.camera = "A";
    add_keys(record, "no_camera", WorkedRoom{}.location(), 2026_y / 3 / 10, 2026_y / 3 / 10, s);
    s = {};
    s.mark = "nobody";
    add("nobody", s);
    s = {};
    s.as_is = true;
    add("as_is", s);
    s.near_m = 0.2;
    add("near", s);
    s = {};
    s.near_m = 4;
    add("far", s);
    s = all_angles(0.3);
    add("wide", s);
    s = all_angles(1);
    s.shortest = Seconds{0};
    add("whole", s);
    s = {};
    s.coverage = 0.6;
    s.shortest = Seconds{2400};
    add("long", s);
    s = {};
    s.altitude_deg[0] = -5;
    s.altitude_deg[1] = 20;
    add("low", s);
    s = {};
    s.key_angle_deg[0] = 40;
    s.key_angle_deg[1] = 55;
    add("angle", s);
    record.check();
}

TEST_CASE("keys that only some bearing gives are those recorded", "[recorded][clean_key]") {
    Record record{"keys_some_bearing"};
    const auto d = 2026_y / 3 / 10;
    for (const double within_deg : {0.0, 0.3, 2.0, 9.0})
        for (const double faces_deg : {225.0, 262.0, 300.0, 141.0})
            for (const double shortest_s : {60.0, 1500.0, 9.0}) {
                WorkedRoom worked;
                worked.within_deg = within_deg;
                worked.faces_deg = faces_deg;
                KeySettings s;
                s.shortest = Seconds{shortest_s};
                s.coverage = shortest_s > 1000 ? 0.5 : 0.95;
                add_keys(record, "key", worked.location(), d, d, s);
            }
    record.check();
}

TEST_CASE("the longest hold that some bearing gives is that recorded", "[recorded][clean_key]") {
    Record record{"keys_longest"};
    const auto d = 2026_y / 3 / 10;
    // How long may a key have to hold, to be found at one of the bearings?
    const auto longest = [&](const OnDates& on, KeySettings s, const Span& run) {
        double yes = 0, no = run.length().count() + 1;
        while (no - yes > 1e-3) {
            const double middle = (yes + no) / 2;
            s.shortest = Seconds{middle};
            (holds_at_some_bearing(on.study, s, {}, run) ? yes : no) = middle;
        }
        return yes;
    };
    const auto run_of = [&](const OnDates& on, KeySettings s) {
        s.shortest = Seconds{1};
        const auto found = clean_key(on.study, on.start_of(d), on.start_of(d, 1), s);
        REQUIRE(found.size() == 1);
        return found[0].possible;
    };
    for (const double faces_deg : {141.0, 225.0, 262.0}) {
        WorkedRoom worked;
        worked.faces_deg = faces_deg;
        worked.within_deg = 9;
        const OnDates on{worked.location(), d, d};
        record.add("worked", longest(on, {}, run_of(on, {})));
    }
    // Where the sun counts for about as long as it needs through the gap, one bearing is the best.
    for (const auto& [gap_m, within_deg] : {std::pair{0.05, 2.0}, {0.03, 0.55}, {0.012, 0.23}}) {
        const OnDates on{behind_gap(gap_m, within_deg), d, d};
        KeySettings s = all_angles(0.5);
        const Span whole = run_of(on, s);
        for (const double share : {0.02, 0.31, 0.5, 0.527, 0.8, 0.97}) {
            const Instant middle = whole.from + share * whole.length();
            const double altitude = on.study.path().at(middle).altitude_deg;
            s.altitude_deg[0] = altitude - gap_m;
            s.altitude_deg[1] = altitude + gap_m;
            const Seconds half{2400 * gap_m};
            record.add("gap", longest(on, s, {middle - half, middle + half}));
        }
    }
    record.check();
}

TEST_CASE("how a patch that comes or goes travels is that recorded", "[recorded][clean_key]") {
    Record record{"keys_drift"};
    const auto d = 2026_y / 3 / 10;
    const OnDates on{behind_gap(0.05, 2), d, d};
    const KeySettings s = all_angles(0.5);
    const auto found = clean_key(on.study, on.start_of(d), on.start_of(d, 1), s);
    REQUIRE(found.size() == 1);
    const auto sun = sun_spans(on.study, 0, on.start_of(d), on.start_of(d, 1));
    REQUIRE(!sun.empty());
    // With half a minute before and after the middle in the patch, or one, or neither.
    for (const Instant middle :
         {sun[0].from - Seconds{40}, sun[0].from - Seconds{10}, sun[0].from + Seconds{10},
          sun[0].from + Seconds{40}, sun[0].to - Seconds{10}, sun[0].to + Seconds{10},
          found[0].span->from, found[0].span->to}) {
        KeyInterval k = found[0];
        k.span = Span{middle - Seconds{4}, middle + Seconds{4}};
        describe(on.study, s, k);
        record.add("key", k);
    }
    record.check();
}

TEST_CASE("the light of keys is that recorded", "[recorded][key_light]") {
    Record record{"key_lights"};
    const auto d = 2026_y / 5 / 2;
    const OnDates on{flax_road(), d, d};
    const RoomLight light{on.study};
    const KeySettings s = all_angles(0.3);
    for (const KeyInterval& key : clean_key(on.study, on.start_of(d), on.start_of(d, 1), s)) {
        if (!key.span) continue;
        const KeyLight told = key_light(on.study, light, key);
        record.add("patch", std::pair{told.patch_at_start, told.patch_at_end});
        record.add("beams", told.beams);
        record.add("mean_cloud", told.mean_cloud.at_start.key_lx);
        record.add("overcast", told.overcast.at_end.key_lx);
        record.add("blackout", told.with_blackout.at_end.fill_lx);
        record.add("sheer", told.with_sheer.at_start.key_lx);
    }
    record.check();
}

TEST_CASE("the margin of a key is that recorded", "[recorded][key_criterion]") {
    Record record{"key_margins"};
    const auto d = 2026_y / 2 / 3;
    site::Location location = flax_road();
    location.room->cameras.push_back({"C", {2.6, 0.4}, 1.2, 1});
    location.room->cameras.back().view = Angle::degrees(70);
    location.room->cameras.back().view_vertical = Angle::degrees(60);
    const OnDates on{location, d, d};
    KeySettings wide = all_angles(0.5), strict;
    wide.near_m = 4;
    KeySettings as_is = wide;
    as_is.as_is = true;
    strict.altitude_deg[0] = 30;
    strict.altitude_deg[1] = 45;
    strict.key_angle_deg[0] = 20;
    strict.key_angle_deg[1] = 60;
    for (const KeySettings& s : {wide, strict, as_is})
        for_each_wanted(on.study, s, [&](std::size_t mark, auto camera, std::size_t window) {
            const KeyCriterion whole{on.study, on.study.scene(), s, mark, camera, window};
            const KeyCriterion centre{on.study, on.study.centres(), s, mark, camera, window};
            std::vector<double> margins;
            std::vector<room::LimitingEdge> edges;
            std::vector<std::optional<std::size_t>> troubling;
            std::optional<Moment> before;
            for (const Moment& m :
                 on.study.path().samples(on.start_of(d), on.start_of(d, 1), Seconds{1500})) {
                margins.push_back(whole(m, on.study.bearings().stated));
                margins.push_back(centre(m, on.study.bearings().all.front()));
                if (m.above_skyline_deg > 0) {
                    troubling.push_back(whole.troubling(on.study.sun(m)));
                    if (before) {
                        edges.push_back(whole.limiting_edge(m, *before));
                        edges.push_back(whole.limiting_edge(*before, m));
                    }
                    before = m;
                }
            }
            edges.push_back(whole.limiting_edge(on.study.path().at(on.start_of(d)), *before));
            record.add("margins", margins);
            record.add("edges", edges);
            record.add("troubling", troubling);
        });
    // Where the key is clean, and another window's sun may stand against it.
    const auto clean = 2026_y / 5 / 2;
    const OnDates may{location, clean, clean};
    for_each_wanted(may.study, wide, [&](std::size_t mark, auto camera, std::size_t window) {
        const KeyCriterion free{may.study, may.study.scene(), wide, mark, camera, window};
        const KeyCriterion kept{may.study, may.study.scene(), as_is, mark, camera, window};
        for (const Moment& m :
             may.study.path().samples(may.start_of(clean), may.start_of(clean, 1), Seconds{400})) {
            const double margin = free(m, may.study.bearings().stated);
            if (margin <= 0) continue;
            record.add("clean", std::pair{margin, kept(m, may.study.bearings().stated)});
            record.add("edge", std::pair{free.limiting_edge(m, m), kept.limiting_edge(m, m)});
        }
    });
    // A window with a cloth in it troubles nobody.
    const OnDates press{example("tallow-lane"), d, d};
    as_is.near_m = 9;
    for (const std::size_t window : {0U, 1U, 2U}) {
        const KeyCriterion key{press.study, press.study.scene(), as_is, 0, 0, window};
        std::vector<std::optional<std::size_t>> troubling;
        for (double hour = 7; hour < 17; hour += 0.3) {
            const Moment m = press.study.path().at(press.start_of(d) + Seconds{3600 * hour});
            if (m.above_skyline_deg > 0) troubling.push_back(key.troubling(press.study.sun(m)));
        }
        record.add("press", troubling);
    }
    record.check();
}

TEST_CASE("the spans of keys are those recorded", "[recorded][key_regions]") {
    Record record{"key_spans"};
    const auto d = 2026_y / 5 / 2;
    const OnDates on{flax_road(), d, d};
    const Instant from = on.start_of(d), to = on.start_of(d, 2);
    KeySettings s = all_angles(0.5);
    s.near_m = 4;
    for (const bool as_is : {false, true}) {
        s.as_is = as_is;
        for (const KeySpans& spans : key_spans(on.study, from, to, s)) {
            record.add("who", std::vector{spans.who.mark, spans.who.window});
            record.add("at", spans.at);
        }
    }
    std::vector<std::vector<std::size_t>> asked;
    const auto first_mark = [&](const KeyInterval& who) {
        asked.push_back({who.mark, who.camera.value_or(99), who.window});
        return who.mark == 0;
    };
    for (const KeySpans& spans : key_spans(on.study, from, to, {}, first_mark))
        record.add("only", spans.at);
    record.add("asked", asked);
    s = {};
    s.altitude_deg[0] = -20;
    for (const KeySpans& spans : key_spans(on.study, from, to, s))
        record.add("from_below", spans.at);
    const Moment noon = on.study.path().at(from + Seconds{12 * 3600});
    record.add("angle", std::vector{unsigned_key_angle(on.study, 0, noon),
                                    unsigned_key_angle(on.study, 1, noon)});
    for (const Span& around : {Span{from, from}, Span{to, to}})
        for (double hour = 7; hour < 20; hour += 0.5)
            for (const std::size_t window : {0U, 1U, 2U, 3U})
                if (const auto run = centre_run(on.study, all_angles(), 1, 1, window,
                                                around.from + Seconds{3600 * hour}))
                    record.add("centre", *run);
    record.check();
}
