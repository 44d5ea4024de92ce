#include "keyhour/study/lamp_day.hpp"

#include <catch2/catch.hpp>

#include "flax_road.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

constexpr date::year_month_day march_10 = date::year{2026} / 3 / 10;
const std::size_t block_window = 0, bench_window = 1, lane_window = 2, bench = 1;

site::Lamp lamp(const char* name, site::Lamp::Place place, double kelvin) {
    site::Lamp l;
    l.name = name;
    l.place = place;
    l.photometry = light::DataSheet{{4000, 5}, Angle::degrees(30), {}, {}, 0.3};
    l.face_diameter_m = 0.3;
    l.kelvin = kelvin;
    l.stand_max_m = 3.6;
    return l;
}

/// The hat works with a warm lamp outside and a fill lamp inside.
site::Location with_lamps() {
    site::Location l = flax_road();
    l.lamps = {lamp("key", site::Lamp::Place::outside, 3200),
               lamp("fill", site::Lamp::Place::inside, 3200)};
    return l;
}

struct Asked {
    OnDates on{with_lamps(), march_10, march_10};
    LampDayQuestion q = question();
    LampDay day = lamp_day(sun_about(march_10), march_10, true, q);

    [[nodiscard]] RoomSun sun_about(site::LocalDate d) const {
        const site::LocalDate before{date::sys_days{d} - date::days{1}};
        return {on.study, on.start_of(before), on.start_of(d, 3), sun_of_lamp_day};
    }
    [[nodiscard]] LampDayQuestion question() const {
        auto asked = lamp_day_question(on.study);
        asked->window = block_window;
        asked->mark = bench;
        asked->camera = 1;
        asked->lock = Seconds{3 * 3600};
        return *asked;
    }
};

}  // namespace

TEST_CASE("a lamp day is the lock, the spans and the lamp that each study gives alone",
          "[study][lamp]") {
    const Asked a;
    const LampDay& day = a.day;
    const Instant from = a.on.start_of(march_10) + Seconds{8 * 3600};
    const auto lock = best_lock(a.on.study, from, from + Seconds{12 * 3600}, a.q.lock, a.q.window);
    REQUIRE(lock);
    REQUIRE(day.lock);
    CHECK(day.lock->lock.from == lock->lock.from);
    REQUIRE(day.lock->covers.size() == lock->covers.size());
    REQUIRE(day.cloth.size() == lock->covers.size());
    CHECK_FALSE(day.cloth.empty());
    for (std::size_t i = 0; i < day.cloth.size(); ++i) {
        CHECK(day.cloth[i].window == lock->covers[i].window);
        CHECK((day.cloth[i].needed_by - lock->covers[i].sure_by).count() == Approx(0).margin(0.2));
        CHECK(day.cloth[i].cloth.width_m == Approx(lock->covers[i].width_m + 0.3));
    }
    LampSettings s;
    s.lock = a.q.lock;
    s.window = "block window";
    s.camera = "B";
    s.earliest = Seconds{8 * 3600};
    s.latest = Seconds{20 * 3600};
    const auto spans = sun_free_spans(a.on.study, march_10, true, s);
    REQUIRE(day.spans.size() == spans.size());
    for (std::size_t i = 0; i < spans.size(); ++i)
        CHECK((day.spans[i].told().from - spans[i].told().from).count() == Approx(0).margin(0.2));
    LampQuestion alone = *a.q.lamp;
    alone.window = block_window;
    alone.mark = bench;
    REQUIRE(day.lamp);
    REQUIRE(day.lamp->light);
    CHECK(day.lamp->light->level_lx == report_lamp(a.on.study, nullptr, alone).light->level_lx);
    CHECK(day.lamp->fill);
}

TEST_CASE("the lock of a lamp day lies in a span without sun through its window if one holds it",
          "[study][lamp]") {
    Asked a;
    for (const std::size_t window : {block_window, bench_window, lane_window})
        for (const double hours : {1.0, 2.5}) {
            a.q.window = window;
            a.q.lock = Seconds{3600 * hours};
            const LampDay day = lamp_day(a.sun_about(march_10), march_10, true, a.q);
            CAPTURE(window, hours);
            REQUIRE(day.lock);
            const bool fits = std::any_of(day.spans.begin(), day.spans.end(), [&](const auto& s) {
                return s.sure_hold() >= a.q.lock + Seconds{120};
            });
            if (fits) CHECK(day.is_sure());
            CHECK(day.is_free() ==
                  std::none_of(day.lock->leaks.begin(), day.lock->leaks.end(),
                               [&](const Leak& l) { return l.window == window && l.span; }));
        }
}

TEST_CASE("daylight over the lock is the room's light with the covers hung", "[study][lamp]") {
    const Asked a;
    const LampDay& day = a.day;
    REQUIRE(day.hours.size() >= 3);
    CHECK(day.hours.front().at == day.lock->lock.from);
    CHECK(day.hours.back().at == day.lock->lock.to);
    for (std::size_t i = 1; i + 1 < day.hours.size(); ++i)
        CHECK(std::fmod((day.hours[i].at - a.on.start_of(march_10)).count(), 3600) == 0);
    site::Location hung = a.on.location;
    for (const ClothToHang& c : day.cloth)
        hung.room->windows[c.window].cover = room::Cover::blackout;
    const OnDates covered{hung, march_10, march_10};
    const RoomLight light{covered.study}, open{a.on.study};
    double lowest = 1e9, highest = -1e9;
    for (const LampHour& h : day.hours) {
        const MarkLight now = light.at(bench, block_window, covered.study.path().at(h.at));
        CHECK(h.daylight_key_lx == Approx(now.key_lx.likely));
        CHECK(h.daylight_fill_lx == Approx(now.fill_lx.likely));
        CHECK(h.daylight_fill_lx <
              open.at(bench, block_window, a.on.study.path().at(h.at)).fill_lx.likely);
        CHECK(h.levels.key_lx == Approx(day.lamp->light->level_lx + now.key_lx.likely));
        lowest = std::min(lowest, h.key_to_fill_stops);
        highest = std::max(highest, h.key_to_fill_stops);
        // A sky is cooler than a lamp of 3200 K, and the mix lies between.
        REQUIRE(h.key_mired);
        CHECK(*h.key_mired < 0);
        CHECK(*h.key_mired > 1e6 / *now.key_kelvin - 1e6 / 3200);
    }
    REQUIRE(day.move);
    CHECK(day.move->ratio_stops >= highest - lowest);
    CHECK(day.move->most_off_lamp_mired < 0);
}

TEST_CASE("lamp days of a range are those of each date alone", "[study][lamp]") {
    const site::LocalDate last{date::sys_days{march_10} + date::days{8}};
    const OnDates on{with_lamps(), march_10, last};
    const SeasonalStudy seasons{on.location, on.study.path().shared(), march_10, last};
    LampDayQuestion q = *lamp_day_question(on.study);
    q.daylight = false;
    q.landing = Landing::left_out;
    const auto days = lamp_days(seasons, march_10, last, q);
    REQUIRE(days.size() == 9);
    for (const LampDay& day : days) {
        const site::LocalDate before{date::sys_days{day.date} - date::days{1}};
        const RoomSun sun{on.study, on.start_of(before), on.start_of(day.date, 3), sun_of_lamp_day};
        const LampDay alone = lamp_day(sun, day.date, day.date == march_10, q);
        CAPTURE(day.date);
        CHECK(day.lock->lock.from == alone.lock->lock.from);
        REQUIRE(day.cloth.size() == alone.cloth.size());
        for (std::size_t i = 0; i < day.cloth.size(); ++i)
            CHECK((day.cloth[i].needed_by - alone.cloth[i].needed_by).count() ==
                  Approx(0).margin(0.2));
        CHECK(day.is_sure() == alone.is_sure());
    }
}

TEST_CASE("the question of a lamp day is what the location's lock says", "[study][lamp]") {
    site::Location l = with_lamps();
    l.lock = site::LockPlan{};
    l.lock->window = lane_window;
    l.lock->mark = bench;
    l.lock->length = std::chrono::minutes{50};
    l.lock->hours = site::WorkingHours{std::chrono::hours{6}, std::chrono::hours{24}};
    const OnDates on{l, march_10, march_10};
    const auto q = lamp_day_question(on.study);
    REQUIRE(q);
    CHECK(q->window == lane_window);
    CHECK(q->mark == bench);
    CHECK(q->camera == 1U);
    CHECK(q->lock == Seconds{3000});
    CHECK(q->hours->to == std::chrono::hours{24});
    CHECK(q->lamp->lamp == 0);
    CHECK(q->lamp->fill->lamp == 1);
    for (room::Window& w : l.room->windows)
        w.cover = room::Cover::sheer;
    l.lock.reset();
    const OnDates unplanned{l, march_10, march_10};
    CHECK_FALSE(lamp_day_question(unplanned.study));
}

TEST_CASE("a planned camera is the lock's, be it not the mark's first", "[study][lamp]") {
    site::Location l = with_lamps();
    room::Camera second = l.room->cameras[1];
    second.name = "second";
    l.room->cameras.push_back(second);
    l.lock = site::LockPlan{};
    l.lock->mark = bench;
    l.lock->camera = l.room->cameras.size() - 1;
    const OnDates on{l, march_10, march_10};
    const auto q = lamp_day_question(on.study);
    REQUIRE(q);
    CHECK(q->camera == l.room->cameras.size() - 1);
}

TEST_CASE(
    "each span of a lamp's choices has the lock that is best placed at its window if it holds it",
    "[study][lamp]") {
    const Asked asked;
    const RoomSun sun = asked.sun_about(march_10);
    LampSettings settings;
    settings.lock = Seconds{3 * 3600};
    settings.earliest = Seconds{7 * 3600};
    settings.latest = Seconds{20 * 3600};
    const auto choices = lamp_choices(sun, march_10, true, settings, Edges::named);
    const auto spans = sun_free_spans(sun, march_10, true, settings, Edges::named);
    REQUIRE(choices.size() == spans.size());
    const Instant from = asked.on.start_of(march_10) + Seconds{7 * 3600};
    const Instant to = asked.on.start_of(march_10) + Seconds{20 * 3600};
    std::size_t with_lock = 0;
    for (std::size_t i = 0; i < choices.size(); ++i) {
        const SunFreeSpan& span = choices[i].span;
        CHECK(span.window == spans[i].window);
        const auto lock = best_lock(sun, from, to, settings.lock, span.window, Landing::left_out);
        const bool holds = lock && span.span && span.span->from <= lock->lock.from &&
                           lock->lock.to <= span.span->to;
        REQUIRE(choices[i].lock.has_value() == holds);
        if (!holds) continue;
        ++with_lock;
        CHECK(choices[i].lock->lock.from == lock->lock.from);
    }
    CHECK(with_lock > 0);
}

TEST_CASE("no window is hung with cloth twice, against the sun and against the lamp",
          "[study][lamp]") {
    const Asked asked;
    for (const std::size_t window : {block_window, bench_window}) {
        LampDayQuestion q = asked.q;
        q.window = window;
        q.lock = Seconds{10 * 3600};  // over much of the day's sun
        const LampDay day = lamp_day(asked.sun_about(march_10), march_10, true, q);
        for (const ClothToHang& against : day.cloth_against_lamp)
            for (const ClothToHang& cloth : day.cloth)
                CHECK(against.window != cloth.window);
    }
}
