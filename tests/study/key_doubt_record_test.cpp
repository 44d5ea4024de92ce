// What doubt makes of keys, whole.

#include <catch2/catch.hpp>

#include "../../src/study/key_doubt_parts.hpp"
#include "key_rooms.hpp"
#include "keyhour/study/patch_doubt.hpp"
#include "recorded.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

struct Asked {
    OnDates on;
    Instant from, to;
    KeySettings settings;
    std::vector<KeyInterval> found;

    Asked(const site::Location& l, site::LocalDate first, site::LocalDate last,
          const KeySettings& s = {})
        : on{l, first, last},
          from{on.start_of(first)},
          to{on.start_of(last, 1)},
          settings{s},
          found{clean_key(on.study, from, to, s)} {}
    [[nodiscard]] AskedKey asked() const { return {&on.study, from, to, found}; }

    void record(Record& record, std::string_view label, const EnsembleSettings& e) const {
        for (const HoldDoubt& d : hold_doubts(on.study, from, to, settings, found, e))
            record.add(label, d);
        const auto members = draws(e);
        record.add("holds", member_holds(on.study, from, to, settings, found, members));
        record.add("kept", kept_parts(on.study, from, to, settings, found, members));
    }
    void record_why(Record& record, const EnsembleSettings& e) const {
        const std::vector<AskedKey> one{asked()};
        for (const InputEffect& effect : why_unsure(one, settings, e))
            record.add("effect", effect);
    }
};

/// Each input's doubt another share of its own.
DoubtScale uneven() {
    DoubtScale s{};
    for (std::size_t i = 0; i < s.size(); ++i)
        s[i] = 1.0 / (1 + static_cast<double>(i));
    return s;
}

}  // namespace

TEST_CASE("doubts of a date's keys are those recorded", "[recorded][key_doubt]") {
    Record record{"key_doubts"};
    const Asked flax{flax_road(), 2026_y / 5 / 2, 2026_y / 5 / 2, all_angles(0.8)};
    flax.record(record, "flax", {5, 1, whole_doubt});
    site::Location late = example("tallow-lane");
    late.clock_within_s = 400;
    const Asked tallow{late, 2026_y / 2 / 17, 2026_y / 2 / 17};
    tallow.record(record, "tallow", {11, 3, uneven()});
    KeySettings s = all_angles(0.6);
    s.shortest = Seconds{20 * 60.0};
    const Asked worked{WorkedRoom{}.location(), 2026_y / 3 / 10, 2026_y / 3 / 10, s};
    worked.record(record, "worked", {21, 2, whole_doubt});
    // Parted by the shadow of a thin post for a minute or two.
    site::Location post = WorkedRoom{}.location();
    post.room->marks[0].radius_m = 0.01;
    post.room->buildings = {{"post", {{3.2, -8}, {3.24, -8}, {3.24, -8.04}, {3.2, -8.04}}, 30},
                            {"mast", {{2.4, -20}, {2.5, -20}, {2.5, -20.1}, {2.4, -20.1}}, 40}};
    const Asked parted{post, 2026_y / 3 / 10, 2026_y / 3 / 10, all_angles(0.5)};
    parted.record(record, "parted", {9, 2, whole_doubt});
    record.check();
}

TEST_CASE("doubts of a range's keys are those recorded", "[recorded][key_doubt]") {
    Record record{"key_doubts_range"};
    const Asked week{WorkedRoom{}.location(), 2026_y / 3 / 8, 2026_y / 3 / 14};
    week.record(record, "week", {3, 1, whole_doubt});
    const Asked less{WorkedRoom{}.location(), 2026_y / 3 / 8, 2026_y / 3 / 13};
    less.record(record, "less", {3, 1, whole_doubt});
    site::Location two = WorkedRoom{}.location();
    two.room->marks.push_back({"other", {2.6, 2.0}, 1.0, 0.2, {}});
    two.room->windows.push_back(two.room->windows[0]);
    two.room->windows[1].name = "second";
    two.room->windows[1].left_m = 0.7;
    two.room->windows.push_back(two.room->windows[0]);
    two.room->windows[2].name = "third";
    two.room->windows[2].left_m = 4.3;
    two.room->height_m = 4;
    for (room::Window& w : two.room->windows)
        w.height_m = 2.5;
    const Asked both{two, 2026_y / 3 / 8, 2026_y / 3 / 15, all_angles(0.5)};
    both.record(record, "both", {2, 4, uneven()});
    // From just before a key on.
    Asked late{WorkedRoom{}.location(), 2026_y / 3 / 8, 2026_y / 3 / 14};
    late.from = late.found[0].span->from - Seconds{60};
    late.record(record, "late", {3, 1, whole_doubt});
    record.check();
}

TEST_CASE("the runs of members are those recorded", "[recorded][key_doubt]") {
    Record record{"member_runs"};
    const auto d = 2026_y / 5 / 2;
    const Asked asked{flax_road(), d, d};
    const auto hour = [&](double h) { return asked.from + Seconds{3600 * h}; };
    // Runs from 10:55 to 11:25 and from 12:09 to 12:23: which of them is meant?
    std::vector<KeyInterval> wanted;
    for (const auto& [from, to] : {std::pair{10.0, 13.0},
                                   {11.0, 12.2},
                                   {11.4, 13.0},
                                   {9.0, 10.0},
                                   {11.6, 12.0},
                                   {12.3, 12.35},
                                   {0.0, 24.0}})
        for (const auto& [begin, end] :
             {std::pair{0.0, 0.0}, {10.9, 11.4}, {11.3, 13.0}, {11.6, 12.0}, {12.1, 12.5}}) {
            KeyInterval k = asked.found.at(0);
            k.possible = {hour(from), hour(to)};
            k.span.reset();
            if (end > 0) k.span = Span{hour(begin), hour(end)};
            wanted.push_back(k);
        }
    for (const Draw& draw : draws({3, 1, whole_doubt})) {
        record.add("runs", member_runs(asked.on.study, asked.from, asked.to, {}, wanted, draw));
        record.add("near", member_runs(asked.on.study, asked.from, asked.to, {}, wanted, draw,
                                       Seconds{300}));
        record.add("week", member_runs(asked.on.study, asked.from - Seconds{86400},
                                       asked.from + Seconds{86400 * 6.0}, {}, wanted, draw));
    }
    record.add("kept", kept_parts(asked.on.study, asked.from, asked.to, {}, wanted,
                                  draws({3, 1, whole_doubt})));
    record.check();
}

TEST_CASE("doubts in rooms thrown at random are those recorded", "[recorded][key_doubt]") {
    Record record{"key_doubts_thrown"};
    for (int seed = 1; seed <= 40; ++seed) {
        const ThrownRoom room{seed};
        const Asked asked{room.location, room.date, room.date, room.settings};
        asked.record(record, "thrown", {4, static_cast<std::uint64_t>(seed), whole_doubt});
    }
    record.check();
}

TEST_CASE("what to measure better is that recorded", "[recorded][why_unsure]") {
    Record record{"why_unsure"};
    site::Location l = example("tallow-lane");
    l.trees = {{"lime", {{-3, -9}, {-1, -9}, {-1, -7}, {-3, -7}}, 8}};
    Asked{l, 2026_y / 2 / 17, 2026_y / 2 / 17}.record_why(record, {6, 1, whole_doubt});
    Asked{flax_road(), 2026_y / 5 / 2, 2026_y / 5 / 2, all_angles(0.7)}.record_why(
        record, {5, 2, uneven()});
    Asked mixed{flax_road(), 2026_y / 5 / 2, 2026_y / 5 / 3, all_angles(0.5)};
    std::reverse(mixed.found.begin(), mixed.found.end());
    mixed.record_why(record, {2, 1, whole_doubt});
    Asked{flax_road(), 2026_y / 6 / 21, 2026_y / 6 / 22}.record_why(record, {3, 5, whole_doubt});
    record.add("none", why_unsure({}, {}, {}).size());
    record.check();
}

TEST_CASE("what to measure better for many keys is that recorded", "[recorded][why_unsure]") {
    Record record{"why_unsure_many"};
    WorkedRoom worked;
    site::Location one = worked.location();
    one.room->marks.push_back({"other", {2.6, 2.0}, 1.0, 0.2, {}});
    const Asked long_range{one, 2026_y / 3 / 1, 2026_y / 3 / 24};
    record.add("intervals", long_range.found.size());
    const Asked later{one, 2026_y / 9 / 20, 2026_y / 9 / 24};
    // A camera for one of the marks alone.
    site::Location filmed = one;
    filmed.room->cameras = {{"camera", {5, 1}, 1.5, 1}};
    const Asked with_camera{filmed, 2026_y / 3 / 8, 2026_y / 3 / 10, all_angles(0.7)};
    with_camera.record_why(record, {3, 1, whole_doubt});
    const std::vector<AskedKey> asked{long_range.asked(), later.asked()};
    for (const InputEffect& effect : why_unsure(asked, {}, {2, 1, whole_doubt}))
        record.add("effect", effect);
    // As many as are looked at, and one more.
    for (const std::size_t count : {24U, 25U}) {
        std::vector<AskedKey> some{long_range.asked()};
        some[0].intervals.resize(count);
        for (const InputEffect& effect : why_unsure(some, {}, {2, 1, whole_doubt}))
            record.add("of_some", effect);
    }
    record.check();
}

TEST_CASE("the members' rooms are those recorded", "[recorded][doubtful_inputs]") {
    Record record{"doubtful_rooms"};
    site::Location l = flax_road();
    l.trees = {{"lime", {{-3, -9}, {-1, -9}, {-1, -7}, {-3, -7}}, 8}};
    l.spots[0].horizon = skyline({{0, 88.99}, {100, 3}, {200, -88.99}});
    l.room->height_m = 2.55;
    l.room->windows[0].left_m = 0.005;
    l.room->windows[2].reveal_m = 0.004;
    for (const Draw& draw : draws({6, 9, uneven()})) {
        record.add("draw", draw.of);
        record.add("places", std::vector{draw.mark_x, draw.mark_y, draw.outside_x, draw.outside_y,
                                         draw.camera_x, draw.camera_y});
        const site::Location m = moved(l, draw);
        record.add("room", *m.room);
        record.add("tree", m.trees[0].footprint);
        record.add("heights", std::vector{m.trees[0].height_m, m.site.weather.pressure_hpa});
        record.add("horizon", m.site.horizon.points());
        record.add("spot", m.spots[0].horizon->points());
        record.add("clock", clock_off(l, draw));
    }
    for (const char* const name : {"flax-road", "sundet", "mill-green/mill-green"}) {
        std::vector<bool> in;
        for (std::size_t i = 0; i < input_count; ++i)
            in.push_back(in_doubt(example(name), static_cast<Input>(i)));
        record.add("in_doubt", in);
    }
    const site::Location yard = moved(example("mill-green/mill-green"), draws({2, 1})[1]);
    record.add("yard", yard.buildings_without_room);
    record.check();
}

TEST_CASE("bands of patches are those recorded", "[recorded][patch_doubt]") {
    Record record{"patch_bands"};
    const auto d = 2026_y / 10 / 3;
    for (const int seed : {0, 2, 4, 6, 7, 10, 12}) {
        const site::Location l = seed == 0 ? flax_road() : ThrownRoom{seed}.location;
        const OnDates on{l, d, d};
        const PatchEnsemble ensemble{on.study, {10, 1, whole_doubt}};
        for (const double hour : {6.2, 9.0, 12.0, 15.0, 17.7}) {
            const PatchInstant instant =
                patches_at(on.study, on.start_of(d) + Seconds{3600 * hour});
            record.add("bands", ensemble.edge_bands_m(instant));
        }
    }
    site::Location late = flax_road();
    late.clock_within_s = 900;
    const OnDates on{late, d, d};
    // Round the times at which the sun comes over the skyline and goes behind it.
    const PatchEnsemble ensemble{on.study, {12, 3, whole_doubt}};
    for (const double hour : {5.9, 6.0, 6.1, 6.2, 6.4, 17.4, 17.6, 17.8, 18.0})
        record.add("low", ensemble.edge_bands_m(
                              patches_at(on.study, on.start_of(d) + Seconds{3600 * hour})));
    const PatchInstant noon = patches_at(on.study, on.start_of(d) + Seconds{43200});
    record.add("usual", PatchEnsemble{on.study}.edge_bands_m(noon));
    record.add("one", PatchEnsemble{on.study, {1, 5, whole_doubt}}.edge_bands_m(noon));
    record.check();
}
