#include "keyhour/study/sun_free.hpp"

#include <catch2/catch.hpp>

#include "flax_road.hpp"
#include "keyhour/study/lamp_day.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

constexpr Seconds minute{60};
constexpr Seconds short_step{10};  // a low sun brushes a north wall for a quarter of a minute
constexpr double margin_s = 60.2;  // a minute, and the searches' own tolerance
constexpr double short_margin_s = 10.2;

bool is_free(const RoomStudy& study, std::size_t window, Instant t) {
    const Moment m = study.path().at(t);
    return m.above_skyline_deg <= 0 ||
           study.scene().open_area(window, study.sun(m)) <= room::smallest_patch_m2;
}

site::LocalDate plus(site::LocalDate d, int days) {
    return site::LocalDate{date::sys_days{d} + date::days{days}};
}

/// The spans of one date as the header words it, from runs found by the minute.
std::vector<Run> spans_of_date(const OnDates& on, std::size_t window, site::LocalDate d) {
    const Instant start = on.start_of(d), end = on.start_of(d, 1), last = on.start_of(d, 2);
    const auto free = [&](Instant t) { return is_free(on.study, window, t); };
    const auto before = runs(on.start_of(d, -1), start, short_step, free);
    const bool whole_before =
        before.size() == 1 && before[0].from == on.start_of(d, -1) && before[0].to == start;
    std::vector<Run> out;
    for (Run run : runs(start, last, short_step, free)) {
        if (run.from >= end) continue;
        const bool whole = run.from == start && run.to >= end;
        if (whole) run.to = end;
        if (run.from == start && !whole && d != on.first && !whole_before) continue;
        out.push_back(run);
    }
    return out;
}

void compare(const OnDates& on, const LampSettings& settings, std::size_t& spans,
             std::size_t& over_midnight, std::size_t& whole_days) {
    for (site::LocalDate d = on.first; d <= on.last; d = plus(d, 1)) {
        const auto told = sun_free_spans(on.study, d, d == on.first, settings);
        std::size_t stepped = 0;
        for (std::size_t w = 0; w < on.study.room().windows.size(); ++w) {
            if (!on.study.scene().faces(w, 0)) continue;  // a lamp there can't light this mark
            for (const Run& run : spans_of_date(on, w, d)) {
                if (run.to - run.from < settings.lock) continue;
                ++stepped;
                CAPTURE(w, d);
                const auto s = std::find_if(told.begin(), told.end(), [&](const SunFreeSpan& t) {
                    return t.span && t.window == w && t.mark == 0 &&
                           std::abs((t.span->from - run.from).count()) < short_margin_s;
                });
                REQUIRE(s != told.end());
                CHECK((s->span->to - run.to).count() == Approx(0).margin(short_margin_s));
                CHECK(s->whole_day == (run.from == on.start_of(d) && run.to == on.start_of(d, 1)));
                if (s->whole_day) ++whole_days;
                if (s->span->to > on.start_of(d, 1)) ++over_midnight;
            }
        }
        const auto of_first_mark = std::count_if(
            told.begin(), told.end(), [](const SunFreeSpan& s) { return s.mark == 0 && s.span; });
        CHECK(static_cast<std::size_t>(of_first_mark) == stepped);
        spans += stepped;
    }
}

site::Location worked(double faces_deg, const char* zone = "UTC0") {
    WorkedRoom room;
    room.faces_deg = faces_deg;
    site::Location l = room.location();
    l.site.zone = *site::Zone::named(zone);
    return l;
}

Seconds clock(int hours, int minutes = 0) {
    return Seconds{hours * 3600.0 + minutes * 60.0};
}

}  // namespace

TEST_CASE("spans free of sun are those found by the minute, each under its date", "[study]") {
    LampSettings s;
    std::size_t spans = 0, over_midnight = 0, whole_days = 0;
    const OnDates hatters{flax_road(), date::year{2026} / 6 / 10, date::year{2026} / 6 / 13};
    compare(hatters, s, spans, over_midnight, whole_days);
    CHECK(spans > 10);
    CHECK(over_midnight > 4);
    // Over the weeks in which the sun first reaches a north wall, days without any sun end.
    const OnDates north{worked(0), date::year{2026} / 3 / 1, date::year{2026} / 4 / 20};
    compare(north, s, spans, over_midnight, whole_days);
    CHECK(whole_days > 10);
    CHECK(whole_days < 50);
}

TEST_CASE("working hours bound the spans of every date of a range", "[study]") {
    const date::year_month_day first = date::year{2026} / 3 / 27, last = date::year{2026} / 3 / 31;
    const OnDates on{worked(225, "Europe/London"), first, last};
    LampSettings s;
    s.lock = Seconds{1800};
    s.earliest = clock(8);
    s.latest = clock(18, 30);
    for (site::LocalDate d = first; d <= last; d = plus(d, 1)) {
        // Clocks go forward on the 29th: 08:00 is an hour earlier by UTC from then on.
        const Seconds offset = d < date::year{2026} / 3 / 29 ? Seconds{0} : Seconds{3600};
        const Instant midnight = Instant::from_unix(date::sys_days{d}.time_since_epoch());
        const Instant from = midnight + clock(8) - offset;
        const Instant to = midnight + clock(18, 30) - offset;
        std::vector<Run> stepped;
        for (const Run& run :
             runs(from, to, minute, [&](Instant t) { return is_free(on.study, 0, t); }))
            if (run.to - run.from >= s.lock) stepped.push_back(run);
        auto told = sun_free_spans(on.study, d, d == on.first, s);
        std::sort(told.begin(), told.end(), [](const SunFreeSpan& a, const SunFreeSpan& b) {
            return a.span->from < b.span->from;
        });
        CAPTURE(d);
        REQUIRE(stepped.size() >= 1);
        REQUIRE(told.size() == stepped.size());
        CHECK(told[0].span->from == from);
        CHECK(told[0].begins_by.kind == room::Edge::none);
        for (std::size_t i = 0; i < told.size(); ++i) {
            CHECK((told[i].span->from - stepped[i].from).count() == Approx(0).margin(margin_s));
            CHECK((told[i].span->to - stepped[i].to).count() == Approx(0).margin(margin_s));
            CHECK(told[i].possible.from >= from);
            CHECK(told[i].possible.to <= to);
        }
    }
}

TEST_CASE("a span long enough at another bearing only is told as possible", "[study]") {
    const date::year_month_day day = date::year{2026} / 3 / 10;
    const OnDates on{worked(225), day, day};
    LampSettings s;
    s.earliest = clock(8);
    s.latest = clock(17, 30);
    s.lock = Seconds{60};
    const auto all = sun_free_spans(on.study, day, true, s);
    REQUIRE(all.size() == 1);  // before the sun comes round; it stays until it sets
    s.lock = all[0].hold() + Seconds{120};
    const auto told = sun_free_spans(on.study, day, true, s);
    REQUIRE(told.size() == 1);
    CHECK_FALSE(told[0].span);
    CHECK_FALSE(told[0].sure);
    CHECK(told[0].possible.length() >= s.lock);
    // Stepped at every bearing: the longest that any of them gives.
    Seconds longest{0};
    for (const room::PlanTurn& turn : on.study.bearings().all)
        for (const Run& run : runs(on.start_of(day) + clock(8), on.start_of(day) + clock(17, 30),
                                   minute, [&](Instant t) {
                                       const Moment m = on.study.path().at(t);
                                       return m.above_skyline_deg <= 0 ||
                                              on.study.scene().open_area(0,
                                                                         turn.to_plan(m.toward)) <=
                                                  room::smallest_patch_m2;
                                   }))
            longest = std::max(longest, run.to - run.from);
    CHECK((told[0].possible.length() - longest).count() == Approx(0).margin(margin_s));
    s.lock = longest + Seconds{120};
    CHECK(sun_free_spans(on.study, day, true, s).empty());
}

TEST_CASE("as it is, a lamp's span ends where another window's sun comes near", "[study]") {
    const date::year_month_day day = date::year{2026} / 6 / 10;
    const OnDates hatters{flax_road(), day, day};
    LampSettings s;
    s.lock = Seconds{600};
    s.earliest = clock(7);
    s.latest = clock(18);
    const auto covered = sun_free_spans(hatters.study, day, true, s);
    s.as_is = true;
    const auto told = sun_free_spans(hatters.study, day, true, s);
    std::size_t stepped = 0, shortened = 0;
    for (const SunFreeSpan& whole : covered) {
        if (!whole.span) continue;
        for (const Run& run : runs(whole.span->from, whole.span->to, Seconds{30}, [&](Instant t) {
                 return std::none_of(whole.to_cover.begin(), whole.to_cover.end(),
                                     [&](const CoverSpan& c) { return c.from <= t && t <= c.to; });
             })) {
            if (run.to - run.from < s.lock + minute) continue;
            ++stepped;
            const auto k = std::find_if(told.begin(), told.end(), [&](const SunFreeSpan& t) {
                return t.span && t.mark == whole.mark && t.window == whole.window &&
                       std::abs((t.span->from - run.from).count()) < margin_s;
            });
            CAPTURE(whole.window, whole.mark);
            REQUIRE(k != told.end());
            CHECK(k->to_cover.empty());
            CHECK((k->span->to - run.to).count() == Approx(0).margin(margin_s));
            if (k->begins_by.kind == room::Edge::cover || k->ends_by.kind == room::Edge::cover)
                ++shortened;
        }
    }
    CHECK(stepped >= 2);
    CHECK(shortened >= 1);
}

TEST_CASE("a span free of sun names what begins and ends it", "[study]") {
    // Nothing outside: the sun comes in past a jamb and leaves at the skyline or past the other.
    WorkedRoom worked;
    worked.faces_deg = 180;
    const OnDates on{worked.location(), date::year{2026} / 6 / 10, date::year{2026} / 6 / 10};
    const auto told = sun_free_spans(on.study, on.first, true, {});
    REQUIRE(!told.empty());
    std::size_t jambs = 0;
    for (const SunFreeSpan& s : told) {
        if (!s.span) continue;
        for (const room::LimitingEdge& e : {s.begins_by, s.ends_by}) {
            CHECK(e.kind != room::Edge::none);
            jambs += e.kind == room::Edge::left_jamb || e.kind == room::Edge::right_jamb;
        }
    }
    CHECK(jambs >= 2);
}

TEST_CASE("cloth in a window keeps it from troubling a mark", "[study]") {
    WorkedRoom worked;
    site::Location l = worked.location();
    room::Window second = l.room->windows[0];
    second.name = "second";
    second.left_m = 0.6;
    l.room->windows.push_back(second);
    const auto day = date::year{2026} / 2 / 15;
    const auto covers = [&](const site::Location& of, std::size_t key_window) {
        const OnDates on{of, day, day};
        return cover_spans(on.study, key_window, 0, std::nullopt, 2, on.start_of(day),
                           on.start_of(day, 1));
    };
    for (const std::size_t key : {std::size_t{0}, std::size_t{1}}) {
        const auto needed = covers(l, key);
        REQUIRE(!needed.empty());
        for (const CoverSpan& c : needed)
            CHECK(c.window == 1 - key);
        site::Location hung = l;
        hung.room->windows[1 - key].cover = room::Cover::blackout;
        CHECK(covers(hung, key).empty());
        hung.room->windows[1 - key].cover = room::Cover::sheer;
        CHECK(covers(hung, key).empty());
    }
}

TEST_CASE("sun in the camera's frame troubles a mark that it does not come near", "[study]") {
    WorkedRoom worked;
    worked.sideways_m = 1.5;
    site::Location l = worked.location();
    room::Window second = l.room->windows[0];
    second.name = "second";
    second.left_m = 4.2;
    second.width_m = 0.6;
    l.room->windows.push_back(second);
    l.room->cameras = {{"camera", {5.5, 5.5}, 2.5, 0, Angle::degrees(60), Angle::degrees(40)}};
    const auto day = date::year{2026} / 2 / 15;
    const OnDates on{l, day, day};
    constexpr double near_m = 0.2;
    const auto seconds = [&](std::optional<std::size_t> camera) {
        double sum = 0;
        for (const CoverSpan& c :
             cover_spans(on.study, 0, 0, camera, near_m, on.start_of(day), on.start_of(day, 1)))
            sum += (c.to - c.from).count();
        return sum;
    };
    double in_frame = 0;
    for (int i = 0; i < 1440; ++i) {
        const Moment m = on.study.path().at(on.start_of(day) + i * minute);
        if (m.above_skyline_deg <= 0) continue;
        for (const room::Patch& p : on.study.scene().patches(1, on.study.sun(m)))
            if (room::in_frame(on.study.room(), on.study.room().cameras[0], p)) {
                in_frame += 60;
                break;
            }
    }
    REQUIRE(in_frame > 1200);
    CHECK(seconds(0) >= in_frame - 120);
    CHECK(seconds(std::nullopt) < in_frame - 600);
}

TEST_CASE("under the midnight sun a window's sun is what sampling finds, from midnight on",
          "[study]") {
    // The range begins with the sun up: before this window, beside it or behind its wall.
    for (const double latitude : {72.0, 80.0})
        for (double faces = 0; faces < 360; faces += 40) {
            WorkedRoom worked;
            worked.latitude_deg = latitude;
            worked.faces_deg = faces;
            const auto day = date::year{2026} / 6 / 10;
            const OnDates on{worked.location(), day, day};
            const Instant from = on.start_of(day), to = on.start_of(day, 2);
            const RoomSun sun{on.study, from, to, sun_of_lamp_day};
            const auto sampled = sun_spans(on.study, 0, from, to);
            CAPTURE(latitude, faces);
            REQUIRE(sun.windows().size() == 1);
            const auto& told = sun.windows()[0].stated;
            REQUIRE(told.size() == sampled.size());
            for (std::size_t i = 0; i < told.size(); ++i) {
                CHECK((told[i].from - sampled[i].from).count() == Approx(0).margin(1));
                CHECK((told[i].to - sampled[i].to).count() == Approx(0).margin(1));
            }
        }
}
