// All that the light sheet tells of a date.

#include <catch2/catch.hpp>

#include "keyhour/study/sheet_day.hpp"
#include "lamp_places.hpp"
#include "recorded.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

Instant at_minute(double m) {
    return Instant::from_unix_s(60 * m);
}

CoverSpan cover_of(std::size_t window, double from, double to) {
    return {window, at_minute(from), at_minute(to)};
}

}  // namespace

TEST_CASE("strips of days are those recorded", "[recorded][day_strip]") {
    Record record{"day_strips"};
    for (const auto& [name, d] :
         {std::pair{"flax-road", site::LocalDate{2026_y / 3 / 10}}, {"sundet", 2026_y / 10 / 25}}) {
        const OnDates on{place_read(name), d, d};
        record.add("strip", day_strip(on.location, &on.study, on.study.path().shared(), d));
        KeySettings key;
        key.coverage = 0.5;
        key.altitude_deg[0] = 10;
        SpotSettings spot;
        spot.late_light.high = {Angle::degrees(10)};
        const DayStrip other =
            day_strip(on.location, nullptr, on.study.path().shared(), d, key, spot);
        record.add("no_room", other);
    }
    record.check();
}

TEST_CASE("planned locks are those recorded", "[recorded][day_strip]") {
    Record record{"planned_locks"};
    site::Location l = place_read("flax-road");
    const site::LocalDate d = 2026_y / 3 / 10;
    const OnDates none{l, d, d};
    CHECK_FALSE(planned_lock(none.study, d));
    l.lamps = lamps_of_every_kind();
    l.lock = site::LockPlan{};
    l.lock->window = 0;
    l.lock->length = std::chrono::hours{3};
    const OnDates on{l, d, d};
    auto planned = planned_lock(on.study, d);
    REQUIRE(planned);
    REQUIRE(planned->day.lamp);
    DayStrip strip;
    record.add("no_plan", covers_of_lock(strip));
    strip.planned = planned;
    record.add("covers", covers_of_lock(strip));
    planned->day.lamp.reset();
    record.add("planned", *planned);
    strip.planned->day.lock.reset();
    record.add("no_lock", covers_of_lock(strip));
    for (room::Window& w : l.room->windows)
        w.cover = room::Cover::blackout;
    l.lock = site::LockPlan{};
    const OnDates dark{l, d, d};
    CHECK_FALSE(planned_lock(dark.study, d));
    record.check();
}

TEST_CASE("the covers of a planned lock hang as long as it lasts, by window", "[day_strip]") {
    DayStrip strip;
    CHECK(covers_of_lock(strip).empty());
    strip.planned = PlannedLock{};
    CHECK(covers_of_lock(strip).empty());
    LockAnswer lock;
    lock.lock = {at_minute(600), at_minute(720), false, false};
    for (const std::size_t window : {3U, 1U, 2U}) {
        lock.covers.emplace_back();
        lock.covers.back().window = window;
    }
    strip.planned->day.lock = lock;
    const auto covers = covers_of_lock(strip);
    REQUIRE(covers.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) {
        CHECK(covers[i].window == i + 1);
        CHECK(covers[i].span.from == at_minute(600));
        CHECK(covers[i].span.to == at_minute(720));
    }
}

TEST_CASE("needs of cover that touch are one, by hand", "[day_strip]") {
    std::vector<KeyInterval> keys(3);
    keys[0].to_cover = {cover_of(2, 10, 20), cover_of(0, 30, 40)};
    keys[1].to_cover = {cover_of(0, 5, 8), cover_of(0, 40, 50), cover_of(2, 12, 14)};
    keys[2].to_cover = {cover_of(0, 51, 52), cover_of(1, 45, 46)};
    const auto needs = cover_needs(keys);
    REQUIRE(needs.size() == 5);
    const auto is = [&](std::size_t i, std::size_t window, double from, double to) {
        CHECK(needs[i].window == window);
        CHECK(needs[i].span.from == at_minute(from));
        CHECK(needs[i].span.to == at_minute(to));
        CHECK_FALSE(needs[i].span.runs_at_start);
        CHECK_FALSE(needs[i].span.runs_at_end);
    };
    is(0, 0, 5, 8);
    is(1, 0, 30, 50);
    is(2, 0, 51, 52);
    is(3, 1, 45, 46);
    is(4, 2, 10, 20);
    CHECK(cover_needs({}).empty());
}

TEST_CASE("minutes of a hold lie within it, by hand", "[day_strip]") {
    const auto minutes = [](double from, double to) {
        std::vector<double> out;
        for (const Instant t : minutes_of_hold({at_minute(from), at_minute(to), false, false}))
            out.push_back(t.unix_s() / 60);
        return out;
    };
    using List = std::vector<double>;
    CHECK(minutes(10, 30) == List{10, 20, 30});
    CHECK(minutes(10.1, 29.9) == List{11, 20, 29});
    CHECK(minutes(10.1, 11.9) == List{11});
    CHECK(minutes(10.1, 12.2) == List{11, 12});
    CHECK(minutes(10, 11) == List{10, 11});
    CHECK(minutes(10.2, 10.8) == List{10.5});
    CHECK(minutes(10, 10) == List{10});
    CHECK(minutes(10.5, 13.2) == List{11, 13});
    CHECK(minutes(10.5, 14.2) == List{11, 12, 14});
}

TEST_CASE("hours of the sun through a window, by hand", "[day_strip]") {
    const site::Zone kolkata = *site::Zone::named("Asia/Kolkata");  // 5 h 30 before UTC
    const auto hours = [&](std::vector<std::pair<double, double>> spans) {
        WindowSun sun;
        for (const auto& [from, to] : spans)
            sun.stated.push_back({at_minute(from), at_minute(to), false, false});
        std::vector<double> out;
        for (const Instant t : hours_of_sun(sun, kolkata))
            out.push_back(t.unix_s() / 60);
        return out;
    };
    using List = std::vector<double>;
    CHECK(hours({}).empty());
    CHECK(hours({{0, 120}}) == List{30, 90});
    CHECK(hours({{30, 90}}) == List{30});
    CHECK(hours({{31, 89}}) == List{60});
    CHECK(hours({{31, 51}, {61, 81}}) == List{41, 71});
    CHECK(hours({{0, 50}, {80, 95}, {200, 215}}) == List{30, 90, 210});
    CHECK(hours({{0, 240}}) == List{30, 150, 210});
    CHECK(hours({{0, 320}}) == List{30, 150, 270});
    CHECK(hours({{31, 33}, {35, 37}, {41, 43}, {51, 53}}) == List{32, 42, 52});
}

TEST_CASE("hours of patches and of plans are those recorded", "[recorded][day_strip]") {
    Record record{"plan_hours"};
    const auto note = [&](const site::Location& l, site::LocalDate d) {
        const OnDates on{l, d, d};
        for (const std::size_t most : {0U, 1U, 2U, 3U, 4U, 9U, 30U})
            record.add("hours", hours_of_patches(on.study, d, most));
        record.add("usual", hours_of_patches(on.study, d));
        std::vector<KeyInterval> keys(2);
        record.add("no_key", plan_hours(on.study, d, keys));
        keys[1].span =
            Span{on.start_of(d) + Seconds{36030}, on.start_of(d) + Seconds{37000}, false, false};
        record.add("key", plan_hours(on.study, d, keys));
        for (std::size_t w = 0; w < on.study.room().windows.size(); ++w)
            record.add("window", window_sun(on.study, w, on.start_of(d), on.start_of(d, 1)));
    };
    note(place_read("flax-road"), 2026_y / 3 / 10);
    note(place_read("tallow-lane"), 2026_y / 12 / 21);
    WorkedRoom north;
    north.faces_deg = 350;
    note(north.location(), 2026_y / 6 / 21);
    WorkedRoom west;
    west.faces_deg = 300;
    for (const int day : {1, 6, 11, 16, 21})
        note(west.location(), 2026_y / 2 / day);
    record.check();
}

namespace {

void note_sheet(Record& record, const SheetDay& sheet) {
    record.add("doubts", sheet.doubts);
    record.add("lock", sheet.lock);
    record.add("ready", sheet.ready_by);
    record.add("misses", sheet.misses);
    for (const auto& ends : sheet.spot_ends)
        for (const SpotEnsemble::Ends& of : ends)
            record.add("spot_ends", of);
    for (const SpotDay& spot : sheet.strip.spots)
        record.add("late_light", spot.late_light);
    record.add("steps", std::pair{sheet.steps.size(), sheet.spot_ends.size()});
    for (std::size_t i = 0; i < sheet.steps.size(); i += 7) {
        const SheetStep& step = sheet.steps[i];
        record.add("at", std::pair{step.now.at, step.now.patches.size()});
        record.add("edges", step.edge_bands_m);
        record.add("marks", step.marks);
    }
    for (const SheetChange& change : sheet.changes) {
        record.add("change", std::pair{change.at, change.changes});
        record.add("step", std::pair{change.step.now.at, change.step.marks});
    }
    const KeyInterval* best = best_key(sheet.strip);
    record.add("best", best ? best - sheet.strip.keys.data() : -1L);
    for (const KeyInterval& key : sheet.strip.keys)
        CHECK(&doubt_of(sheet, key) - sheet.doubts.data() == &key - sheet.strip.keys.data());
}

}  // namespace

TEST_CASE("sheets of days are those recorded", "[recorded][sheet_day]") {
    Record record{"sheet_days"};
    WorkedRoom worked;
    site::Location l = worked.location();
    l.room->marks.push_back({"far", {1, 5}, 1.0, 0.2, {}});
    l.room->windows.push_back(l.room->windows[0]);
    l.room->windows[1].name = "other";
    l.room->windows[1].left_m = 0.3;
    const site::LocalDate d = 2026_y / 11 / 20;
    const OnDates on{l, d, d};
    note_sheet(record, sheet_day(on.location, &on.study, on.study.path().shared(), d));
    record.check();
}

TEST_CASE("changes of light within one minute of the clock are one, as recorded",
          "[recorded][sheet_day]") {
    Record record{"sheet_changes"};
    // A reveal half a centimetre deeper lets the sun in a good minute later.
    site::Location l = WorkedRoom{}.location();
    const room::Window first = l.room->windows[0];
    l.room->windows.clear();
    for (int i = 0; i < 5; ++i) {
        room::Window w = first;
        w.name = test::numbered("window", static_cast<std::size_t>(i));
        w.left_m = 0.1 + 1.15 * i;
        w.width_m = 1.1;
        w.reveal_m = 0.3 + 0.005 * i;
        l.room->windows.push_back(w);
    }
    const site::LocalDate d = 2026_y / 11 / 20;
    const OnDates on{l, d, d};
    const SheetDay sheet = sheet_day(on.location, &on.study, on.study.path().shared(), d);
    for (const SheetChange& change : sheet.changes)
        record.add("change", std::pair{change.at, change.changes});
    record.check();
}

TEST_CASE("sheets of the examples are those recorded", "[recorded][sheet_day]") {
    Record record{"sheet_examples"};
    const auto note = [&](site::Location l, site::LocalDate d) {
        const OnDates on{std::move(l), d, d};
        note_sheet(record, sheet_day(on.location, &on.study, on.study.path().shared(), d));
    };
    note(place_read("tallow-lane"), 2026_y / 3 / 10);
    note(place_read("sundet"), 2026_y / 12 / 21);
    site::Location hats = place_read("flax-road");
    hats.lamps = lamps_of_every_kind();
    hats.lock = site::LockPlan{};
    hats.lock->window = 0;
    note(hats, 2026_y / 4 / 12);
    record.check();
}

TEST_CASE("sheets of days without a key are those recorded", "[recorded][sheet_day]") {
    Record record{"sheet_no_key"};
    WorkedRoom north;
    north.faces_deg = 20;
    north.within_deg = 0;
    site::Location l = north.location();
    l.spots.resize(1);
    l.spots[0].name = "street";
    l.spots[0].on_plan = true;
    l.spots[0].at = {3, -6};
    const site::LocalDate d = 2026_y / 4 / 12;
    const OnDates on{l, d, d};
    const SheetDay sheet = sheet_day(on.location, &on.study, on.study.path().shared(), d);
    CHECK(best_key(sheet.strip) == nullptr);
    CHECK_FALSE(sheet.ready_by);  // a room is not rigged for the light outside
    CHECK_FALSE(sheet.lock);
    CHECK_FALSE(sheet.misses.empty());
    note_sheet(record, sheet);
    record.check();
}

TEST_CASE("sheets of places without a room are those recorded", "[recorded][sheet_day]") {
    Record record{"sheet_no_room"};
    const site::LocalDate d = 2026_y / 10 / 12;
    for (const char* name : {"mill-green/mill-green", "bindery-and-wharf/hemp-wharf"}) {
        site::Location l = place_read(name);
        const Instant start = l.site.zone.start_of(d);
        const auto shared =
            SharedTrack::make(start - Seconds{2 * 86400}, start + Seconds{4 * 86400});
        const auto ask = [&] {
            const SheetDay sheet = sheet_day(l, nullptr, shared, d);
            CHECK(sheet.steps.empty());
            CHECK(sheet.changes.empty());
            CHECK(sheet.doubts.empty());
            note_sheet(record, sheet);
        };
        ask();
        // No light from the wanted side: the late light of the evening.
        for (site::Spot& spot : l.spots) {
            spot.wants = site::Side::back;
            spot.camera_bearing = Angle::degrees(350);
        }
        ask();
        l.site.horizon = site::Horizon{{skyline_point(0, 70)}};
        ask();
    }
    record.check();
}

TEST_CASE("a room without a mark has a sheet", "[sheet_day]") {
    const site::LocalDate d = 2026_y / 11 / 20;
    site::Location l = WorkedRoom{}.location();
    l.room->marks.clear();
    const OnDates on{l, d, d};
    const SheetDay sheet = sheet_day(on.location, &on.study, on.study.path().shared(), d);
    CHECK(best_key(sheet.strip) == nullptr);
    REQUIRE_FALSE(sheet.steps.empty());
    CHECK(sheet.steps[0].marks.empty());
}
