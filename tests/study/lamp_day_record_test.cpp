// Whole days keyed by a lamp.

#include <catch2/catch.hpp>

#include "keyhour/study/lamp_day.hpp"
#include "lamp_places.hpp"
#include "recorded.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

constexpr date::year_month_day a_day = date::year{2026} / 3 / 10;

site::Location lit_place(const char* name) {
    site::Location l = place_read(name);
    l.lamps = lamps_of_every_kind();
    l.lamps[3].at = room::Point2{2, 2.5};
    l.lamps[3].height_m = 2;
    return l;
}

RoomSun sun_about(const OnDates& on, site::LocalDate d) {
    return {on.study, on.start_of(site::LocalDate{date::sys_days{d} - date::days{1}}),
            on.start_of(d, 3), sun_of_lamp_day};
}

void note_lamp_day(Record& record, const char* label, LampDay day) {
    if (day.lamp && day.lamp->light) {
        day.lamp->light->patches.clear();
        day.lamp->light->on_ceiling.reset();
    }
    record.add(label, day);
    record.add("sure", std::pair{day.is_free(), day.is_sure()});
}

}  // namespace

TEST_CASE("questions about lamp days are those recorded", "[recorded][lamp_day]") {
    Record record{"lamp_questions"};
    const auto ask = [&](const OnDates& on, const auto& change) {
        site::LockPlan plan;
        change(plan);
        const auto q = lamp_day_question(on.study, plan, 3);
        record.add("question", q);
        if (!q) return;
        const LampSettings s = lamp_settings(on.study.room(), *q);
        record.add("settings", s);
    };
    for (const char* name : {"flax-road", "sundet", "tallow-lane", "bindery-and-wharf/bindery"}) {
        site::Location l = lit_place(name);
        if (*name == 's') l.lamps.erase(l.lamps.begin(), l.lamps.begin() + 3);
        if (*name == 'b') l.lamps = {l.lamps[6]};
        l.lock = site::LockPlan{};
        l.lock->length = std::chrono::seconds{5400};
        const OnDates on{l, a_day, a_day};
        record.add("planned", lamp_day_question(on.study));
        ask(on, [](site::LockPlan&) {});
        ask(on, [](site::LockPlan& p) { p.window = 1; });
        ask(on, [](site::LockPlan& p) { p.mark = 0, p.lamp = 0; });
        ask(on, [](site::LockPlan& p) {
            p.mark = 0, p.window = 0, p.camera = 0, p.length = std::chrono::seconds{600},
            p.hours = site::WorkingHours{std::chrono::hours{6}, std::chrono::hours{24}};
        });
        if (on.study.room().marks.size() > 1) ask(on, [](site::LockPlan& p) { p.mark = 1; });
        if (on.study.room().windows.size() > 3)
            ask(on, [](site::LockPlan& p) { p.window = 3, p.mark = 0; });
    }
    for (const std::uint64_t seed : {2U, 3U, 5U, 8U, 9U, 14U, 20U}) {
        site::Location l = random_place(seed);
        l.lamps[0].at = room::Point2{-9, 2};
        if (seed % 2 == 1) l.lamps[0].height_m = 2;
        const OnDates on{l, a_day, a_day};
        ask(on, [](site::LockPlan&) {});
        ask(on, [](site::LockPlan& p) { p.lamp = 0; });
    }
    site::Location dark = lit_place("tallow-lane");
    for (room::Window& w : dark.room->windows)
        w.cover = room::Cover::sheer;
    const OnDates on{dark, a_day, a_day};
    record.add("no_open_window", lamp_day_question(on.study));
    record.check();
}

TEST_CASE("days keyed by a lamp are those recorded", "[recorded][lamp_day]") {
    Record record{"lamp_days"};
    for (const char* name : {"flax-road", "tallow-lane"}) {
        const OnDates on{lit_place(name), a_day, a_day};
        const RoomSun sun = sun_about(on, a_day);
        LampDayQuestion q = *lamp_day_question(on.study);
        q.lock = Seconds{2 * 3600};
        note_lamp_day(record, "day", lamp_day(sun, a_day, true, q));
        q.daylight = false;
        q.landing = Landing::left_out;
        q.hours.reset();
        note_lamp_day(record, "any_hour", lamp_day(sun, a_day, false, q));
        q.lock = Seconds{25 * 3600};
        note_lamp_day(record, "too_long", lamp_day(sun, a_day, false, q));
        q.lock = Seconds{5 * 3600};
        q.window = 1;
        q.overlap_m = 0;
        note_lamp_day(record, "other_window", lamp_day(sun, a_day, false, q));
        q.lamp.reset();
        note_lamp_day(record, "no_lamp", lamp_day(sun, a_day, false, q));
    }
    record.check();
}

TEST_CASE("daylight over a lock is that recorded", "[recorded][lamp_day]") {
    Record record{"lamp_day_hours"};
    const auto ask = [&](const OnDates& on, site::LocalDate d, double from_h, double to_h,
                         const auto& change) {
        const RoomSun sun = sun_about(on, d);
        LampDayQuestion q = *lamp_day_question(on.study);
        q.landing = Landing::left_out;
        change(q);
        const auto lock = leaks_of_lock(sun, on.start_of(d) + Seconds{3600 * from_h},
                                        on.start_of(d) + Seconds{3600 * to_h}, q.window, q.landing);
        const LampDay day = lamp_day(sun, d, true, q, lock);
        record.add("hours", day.hours);
        record.add("move", day.move);
        record.add("cloth", day.cloth);
        record.add("against_lamp", day.cloth_against_lamp);
        if (day.lamp) record.add("fill", day.lamp->fill);
    };
    const auto as_it_is = [](LampDayQuestion&) {};
    const site::LocalDate spring = 2026_y / 3 / 29;
    const OnDates press{lit_place("tallow-lane"), spring, spring};
    ask(press, spring, 5, 9, as_it_is);
    ask(press, spring, 9.07, 10.93, as_it_is);
    ask(press, spring, 9.09, 10.91, as_it_is);
    ask(press, spring, 22, 23, as_it_is);
    ask(press, spring, 18.3, 20.7, [](LampDayQuestion& q) { q.overlap_m = 0.3; });
    site::Location l = lit_place("flax-road");
    l.lamps[0].kelvin = 9000;
    l.lamps[3].at.reset();
    const OnDates hats{l, a_day, a_day};
    ask(hats, a_day, 6, 8, as_it_is);
    ask(hats, a_day, 13, 17, [](LampDayQuestion& q) { q.lamp->fill->ratio = 20; });
    ask(hats, a_day, 13, 15, [](LampDayQuestion& q) { q.lamp->fill->ratio = 1.01; });
    ask(hats, a_day, 13, 15, [](LampDayQuestion& q) { q.lamp->fill.reset(); });
    record.check();
}

TEST_CASE("choices of lamps are those recorded", "[recorded][lamp_day]") {
    Record record{"lamp_choices"};
    for (const char* name : {"flax-road", "bindery-and-wharf/bindery"}) {
        const OnDates on{place_read(name), a_day, a_day};
        const RoomSun sun = sun_about(on, a_day);
        LampSettings s;
        for (const LampChoice& choice : lamp_choices(sun, a_day, true, s, Edges::named))
            record.add("choice", choice);
        s.earliest = Seconds{10.5 * 3600};
        for (const LampChoice& choice : lamp_choices(sun, a_day, false, s, Edges::left_out))
            record.add("from", choice);
        s.earliest.reset();
        s.latest = Seconds{12 * 3600};
        s.lock = Seconds{3600};
        for (const LampChoice& choice : lamp_choices(sun, a_day, false, s, Edges::left_out))
            record.add("to", choice);
    }
    record.check();
}

TEST_CASE("hours of a date are those of its clock", "[lamp_day]") {
    // The clocks of London went forward at 01:00 on 29 March 2026 (UTC), back at 01:00 on
    // 25 October: the European rule.
    const site::Zone zone = *site::Zone::named("Europe/London");
    using std::chrono::hours;
    const auto length_h = [&](site::LocalDate d, const std::optional<site::WorkingHours>& of) {
        return hours_of(zone, d, of).length().count() / 3600;
    };
    CHECK(length_h(2026_y / 3 / 28, {}) == 24);
    CHECK(length_h(2026_y / 3 / 29, {}) == 23);
    CHECK(length_h(2026_y / 10 / 25, {}) == 25);
    CHECK(length_h(2026_y / 3 / 29, site::WorkingHours{hours{8}, hours{20}}) == 12);
    CHECK(length_h(2026_y / 3 / 29, site::WorkingHours{hours{0}, hours{8}}) == 7);
    const site::LocalDate d = 2026_y / 3 / 29;
    CHECK(hours_of(zone, d, {}).from == zone.start_of(d));
    // 01:30 is skipped: taken as so long after midnight.
    const Span skipped =
        hours_of(zone, d, site::WorkingHours{std::chrono::minutes{90}, std::chrono::minutes{95}});
    CHECK((skipped.from - zone.start_of(d)).count() == 5400);
    CHECK((skipped.to - zone.start_of(d)).count() == 5700);
}

TEST_CASE("the sun of a range is found by seasons, a year at a time", "[recorded][lamp_day]") {
    Record record{"seasonal_sun"};
    site::Location l = place_read("bindery-and-wharf/bindery");
    const auto note = [&](site::LocalDate first, site::LocalDate last,
                          const std::vector<site::LocalDate>& dates) {
        const auto shared = SharedTrack::make(l.site.zone.start_of(first) - Seconds{86400},
                                              l.site.zone.start_of(last) + Seconds{3 * 86400});
        const SeasonalStudy seasons{l, shared, first, last};
        SeasonalSun sun{seasons, first, last, {false, false}};
        for (const site::LocalDate d : dates) {
            const RoomSun& on = sun.on(d);
            record.add("sun", std::pair{d, std::pair{on.from(), on.to()}});
            record.add("first", std::pair{sun.is_first(d), on.windows().at(0).stated.size()});
        }
    };
    note(2026_y / 1 / 1, 2027_y / 2 / 1,
         {2026_y / 1 / 1, 2027_y / 1 / 1, 2027_y / 1 / 2, 2027_y / 2 / 1, 2026_y / 5 / 1,
          2027_y / 1 / 30});
    site::Tree lime;
    lime.name = "lime";
    lime.footprint = site::round_crown({3.5, -6}, 5);
    lime.height_m = 9;
    lime.first_leaf = date::May;
    lime.last_leaf = date::October;
    l.trees.push_back(lime);
    note(2026_y / 4 / 20, 2026_y / 5 / 6,
         {2026_y / 4 / 22, 2026_y / 4 / 30, 2026_y / 5 / 1, 2026_y / 5 / 6, 2026_y / 4 / 20});
    record.check();
}

TEST_CASE("lamp days of a range are those recorded", "[recorded][lamp_day]") {
    Record record{"lamp_day_range"};
    site::Location l = lit_place("bindery-and-wharf/bindery");
    const site::LocalDate first = 2026_y / 6 / 9, last = 2026_y / 6 / 11;
    const auto shared = SharedTrack::make(l.site.zone.start_of(first) - Seconds{86400},
                                          l.site.zone.start_of(last) + Seconds{3 * 86400});
    const SeasonalStudy seasons{l, shared, first, last};
    LampDayQuestion q = *lamp_day_question(seasons.on(first));
    q.daylight = false;
    q.lamp.reset();
    q.hours.reset();
    for (const LampDay& day : lamp_days(seasons, first, last, q))
        note_lamp_day(record, "day", day);
    record.check();
}

TEST_CASE("the camera of a lamp day is the question's", "[lamp_day]") {
    site::Location l = lit_place("tallow-lane");
    room::Camera second = l.room->cameras[0];
    second.name = "B";
    second.at = {6, 4};
    l.room->cameras.push_back(second);
    const OnDates on{l, a_day, a_day};
    LampDayQuestion q = *lamp_day_question(on.study);
    q.daylight = false;
    q.landing = Landing::left_out;
    for (const std::size_t camera : {0U, 1U}) {
        q.camera = camera;
        const LampDay day = lamp_day(sun_about(on, a_day), a_day, true, q);
        CHECK(day.lamp->camera == std::optional{camera});
        for (const SunFreeSpan& span : day.spans)
            CHECK(span.camera == std::optional{camera});
    }
}

TEST_CASE("dim lamps by day and night are those recorded", "[recorded][lamp_day]") {
    Record record{"lamp_day_dim"};
    site::Location l = lit_place("tallow-lane");
    l.lamps[0].photometry = light::DataSheet{{0.9, 5}, Angle::degrees(24), {}, {}, 0.3};
    l.lamps[3].photometry = light::DataSheet{{0.05, 1}, Angle::degrees(95), {}, {}, 0.3};
    for (const bool has_place : {true, false}) {
        if (!has_place) l.lamps[3].at.reset();
        const OnDates on{l, a_day, a_day};
        const RoomSun sun = sun_about(on, a_day);
        LampDayQuestion q = *lamp_day_question(on.study);
        q.landing = Landing::left_out;
        for (const double from_h : {0.0, 5.0, 6.0, 19.0, 23.0})
            for (const double ratio : {1.5, 4.0}) {
                q.lamp->fill->ratio = ratio;
                const Instant from = on.start_of(a_day) + Seconds{3600 * from_h};
                const auto lock =
                    leaks_of_lock(sun, from, from + Seconds{3000}, q.window, q.landing);
                const LampDay day = lamp_day(sun, a_day, true, q, lock);
                record.add("hours", day.hours);
                record.add("move", day.move);
                record.add("fill", day.lamp->fill);
            }
        // Nothing of the lamp reaches the mark.
        q.lamp->coverage = 0;
        q.lamp->distance_m = 3;
        q.lamp->through_middle = false;
        q.lamp->key = WantedKey{0, 150, 2, {}};
        const Instant noon = on.start_of(a_day) + Seconds{3600 * 12};
        const LampDay day =
            lamp_day(sun, a_day, true, q,
                     leaks_of_lock(sun, noon, noon + Seconds{3600}, q.window, q.landing));
        record.add("none_hours", day.hours);
        record.add("none_move", day.move);
    }
    record.check();
}

TEST_CASE("a lamp that reaches no place leaves the lock as it is", "[lamp_day]") {
    site::Location l = lit_place("tallow-lane");
    l.room->buildings.push_back({"scaffold", {{-30, -40}, {30, -40}, {30, -0.3}, {-30, -0.3}}, 20});
    const OnDates on{l, a_day, a_day};
    LampDayQuestion q = *lamp_day_question(on.study);
    q.window = 0;
    const LampDay day = lamp_day(sun_about(on, a_day), a_day, true, q);
    REQUIRE(day.lamp);
    CHECK_FALSE(day.lamp->light);
    CHECK(day.lock);
    CHECK(day.hours.empty());
    CHECK_FALSE(day.move);
    CHECK(day.cloth_against_lamp.empty());
}

TEST_CASE("a fill lamp too weak at any distance gives nothing", "[lamp_day]") {
    // A face of 2 m across gives at most 4 I / D2 lx, right before it: less than a quarter of this
    // key.
    site::Location l = lit_place("tallow-lane");
    l.lamps[3].at.reset();
    l.lamps[3].diffusion = light::Diffusion{0.01, 2, 0.5};
    const OnDates on{l, a_day, a_day};
    const RoomSun sun = sun_about(on, a_day);
    LampDayQuestion q = *lamp_day_question(on.study);
    q.landing = Landing::left_out;
    const auto lock = leaks_of_lock(sun, on.start_of(a_day), on.start_of(a_day) + Seconds{3600},
                                    q.window, q.landing);
    const LampDay day = lamp_day(sun, a_day, true, q, lock);
    REQUIRE(day.lamp->fill);
    CHECK(day.lamp->fill->lamp_lx > 0);
    CHECK_FALSE(day.lamp->fill->distance_m);
    REQUIRE_FALSE(day.hours.empty());
    CHECK(day.hours[0].levels.fill_lx ==
          Approx(day.lamp->light->given_back_lx + day.hours[0].daylight_fill_lx));
}

TEST_CASE("cloth against a lamp is that recorded", "[recorded][lamp_day]") {
    Record record{"lamp_day_cloth"};
    for (const char* name : {"tallow-lane", "flax-road"}) {
        site::Location l = lit_place(name);
        l.room->bearing.within = Angle::degrees(1);
        const OnDates on{l, a_day, a_day};
        const RoomSun sun = sun_about(on, a_day);
        LampDayQuestion q = *lamp_day_question(on.study);
        q.landing = Landing::left_out;
        q.daylight = false;
        for (const std::size_t lamp : {0U, 2U, 4U, 5U})
            for (const double from_h : {1.0, 9.0, 14.0}) {
                q.lamp->lamp = lamp;
                q.overlap_m = 0.1 * from_h;
                const Instant from = on.start_of(a_day) + Seconds{3600 * from_h};
                const LampDay day =
                    lamp_day(sun, a_day, true, q,
                             leaks_of_lock(sun, from, from + Seconds{7200}, q.window, q.landing));
                record.add("cloth", day.cloth);
                record.add("against_lamp", day.cloth_against_lamp);
                record.add("span", std::pair{day.span, day.is_sure()});
            }
    }
    record.check();
}
