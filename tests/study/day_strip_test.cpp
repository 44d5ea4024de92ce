// What the sheet shows of a date: hours of sun in closed form, covers and holds by hand.

#include "keyhour/study/day_strip.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "flax_road.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

constexpr site::LocalDate day_in_march = 2026_y / 3 / 10;

Instant at(double minutes) {
    return Instant::from_unix(Seconds{1770000000 + 60 * minutes});
}

/// The worked room's window has light where the sun is up and neither jamb nor head takes all of
/// it: 1.2 m wide, 1.5 m high, 0.3 m deep, facing 225 degrees.
bool enters(const RoomStudy& study, Instant t) {
    const LevelVector sun = study.path().at(t).toward;
    const double bearing = Angle::degrees(225).in_radians();
    const double out = sun.east * std::sin(bearing) + sun.north * std::cos(bearing);
    const double aside = sun.east * std::cos(bearing) - sun.north * std::sin(bearing);
    return sun.up > 0 && out > 0 && 0.3 * std::abs(aside) / out < 1.2 && 0.3 * sun.up / out < 1.5;
}

std::vector<Instant> hours_of_sun_in(const OnDates& room, int step_s) {
    std::vector<Instant> out;
    for (int s = 0; s < 86400; s += step_s) {
        const Instant t = room.start_of(room.first) + Seconds{static_cast<double>(s)};
        if (enters(room.study, t)) out.push_back(t);
    }
    return out;
}

CoverSpan cover(std::size_t window, double from, double to) {
    CoverSpan c;
    c.window = window;
    c.from = at(from);
    c.to = at(to);
    return c;
}

}  // namespace

TEST_CASE("a plan shows the hours at which the sun lands in the room, thinned evenly", "[strip]") {
    const OnDates room{WorkedRoom{}.location(), day_in_march, day_in_march};
    const auto hours = hours_of_sun_in(room, 3600);
    REQUIRE(hours.size() > 4);
    const auto most = [&](std::size_t n) { return hours_of_patches(room.study, day_in_march, n); };
    CHECK(most(24) == hours);
    CHECK(most(0) == hours);
    CHECK(most(1) == std::vector{hours.front()});
    CHECK(most(2) == std::vector{hours.front(), hours.back()});
    CHECK(most(3) == std::vector{hours.front(), hours[(hours.size() - 1) / 2], hours.back()});
    CHECK(hours_of_patches(room.study, day_in_march).size() == 4);
    CHECK(plan_hours(room.study, day_in_march, {}) == most(4));
}

TEST_CASE("a room with sun for less than two hours is shown by half hours", "[strip]") {
    WorkedRoom north;
    north.faces_deg = 320;
    north.reveal_m = 0.3;
    const OnDates room{north.location(), 2026_y / 2 / 25, 2026_y / 2 / 25};
    const auto shown = hours_of_patches(room.study, room.first, 24);
    REQUIRE(!shown.empty());
    CHECK(shown.size() <= 4);
    bool half = false;
    for (const Instant t : shown) {
        const double s = (t - room.start_of(room.first)).count();
        CHECK(std::fmod(s, 1800) == 0);
        half = half || std::fmod(s, 3600) != 0;
    }
    CHECK(half);
}

TEST_CASE("needs of one window that touch are one, in the order of windows and times", "[strip]") {
    KeyInterval one, other;
    one.to_cover = {cover(1, 30, 60), cover(0, 10, 20)};
    other.to_cover = {cover(1, 60, 70), cover(0, 40, 50), cover(1, 65, 68)};
    const auto needs = cover_needs({one, other});
    REQUIRE(needs.size() == 3);
    CHECK(needs[0].window == 0);
    CHECK(needs[0].span.from == at(10));
    CHECK(needs[0].span.to == at(20));
    CHECK(needs[1].span.from == at(40));
    CHECK(needs[2].window == 1);
    CHECK(needs[2].span.from == at(30));
    CHECK(needs[2].span.to == at(70));
    CHECK(cover_needs({}).empty());
}

TEST_CASE("a hold is shown by whole minutes within it", "[strip]") {
    const double first = 60 * std::ceil(at(0).unix_s() / 60);
    const auto hold = [&](double from_s, double to_s) {
        std::vector<double> out;
        for (const Instant t : minutes_of_hold({Instant::from_unix_s(first + from_s),
                                                Instant::from_unix_s(first + to_s), false, false}))
            out.push_back(t.unix_s() - first);
        return out;
    };
    CHECK(hold(-10, 610) == std::vector<double>{0, 300, 600});
    CHECK(hold(0, 130) == std::vector<double>{0, 60, 120});
    CHECK(hold(-30, 70) == std::vector<double>{0, 60});
    CHECK(hold(-30, 30) == std::vector<double>{0});
    CHECK(hold(10, 50) == std::vector<double>{30});  // no whole minute in it: its middle
}

TEST_CASE("hours of sun are whole local hours, three at most", "[strip]") {
    const auto read = site::Zone::named("Asia/Kolkata");  // half an hour off
    REQUIRE(read);
    const double midnight = read->start_of(day_in_march).unix_s();
    const auto shown = [&](std::vector<std::pair<double, double>> hours) {
        WindowSun sun;
        for (const auto& [from, to] : hours)
            sun.stated.push_back({Instant::from_unix_s(midnight + 3600 * from),
                                  Instant::from_unix_s(midnight + 3600 * to), false, false});
        std::vector<double> out;
        for (const Instant t : hours_of_sun(sun, *read))
            out.push_back((t.unix_s() - midnight) / 3600);
        return out;
    };
    CHECK(shown({{8.5, 11.5}}) == std::vector<double>{9, 10, 11});
    CHECK(shown({{7.5, 9.2}, {14.5, 17.1}}) == std::vector<double>{8, 15, 17});
    CHECK(shown({{9, 10}}) == std::vector<double>{9});
    CHECK(shown({{9.25, 9.75}}) == std::vector<double>{9.5});
    CHECK(shown({}).empty());
}

TEST_CASE("a lock stands on the strip where the file plans one alone", "[strip]") {
    site::Location with = flax_road();
    with.lock = site::LockPlan{};
    const OnDates planned{with, day_in_march, day_in_march};
    const auto lock = planned_lock(planned.study, day_in_march);
    REQUIRE(lock);
    CHECK(lock->day.date == day_in_march);
    site::Location without = flax_road();
    without.lock.reset();
    const OnDates unplanned{without, day_in_march, day_in_march};
    CHECK_FALSE(planned_lock(unplanned.study, day_in_march));
}

TEST_CASE("a date's strip holds what each of its parts tells alone", "[strip]") {
    site::Location with = flax_road();
    with.lock = site::LockPlan{};
    const OnDates room{with, day_in_march, day_in_march};
    const auto& track = room.study.path().shared();
    const DayStrip strip = day_strip(room.location, &room.study, track, day_in_march);
    CHECK(strip.from == room.start_of(day_in_march));
    CHECK(strip.to == room.start_of(day_in_march, 1));
    CHECK(strip.day.date == day_in_march);
    REQUIRE(strip.windows.size() == room.location.room->windows.size());
    for (std::size_t w = 0; w < strip.windows.size(); ++w) {
        CHECK(strip.windows[w].window == w);
        const WindowSun alone = window_sun(room.study, w, strip.from, strip.to);
        REQUIRE(strip.windows[w].stated.size() == alone.stated.size());
        // What is sure lies within what is stated, and that within what is possible.
        for (const Span& s : alone.sure)
            CHECK(std::any_of(alone.stated.begin(), alone.stated.end(), [&](const Span& t) {
                return t.from <= s.from + Seconds{1} && s.to <= t.to + Seconds{1};
            }));
        for (const Span& s : alone.stated)
            CHECK(std::any_of(alone.possible.begin(), alone.possible.end(), [&](const Span& t) {
                return t.from <= s.from + Seconds{1} && s.to <= t.to + Seconds{1};
            }));
    }
    CHECK(strip.spots.size() == room.location.spots.size());
    CHECK(strip.planned);
    const auto covers = covers_of_lock(strip);
    if (strip.planned->day.lock) CHECK(covers.size() == strip.planned->day.lock->covers.size());
    for (std::size_t i = 1; i < covers.size(); ++i)
        CHECK(covers[i - 1].window <= covers[i].window);
    const DayStrip outside = day_strip(room.location, nullptr, track, day_in_march);
    CHECK(outside.windows.empty());
    CHECK_FALSE(outside.planned);
    CHECK(covers_of_lock(outside).empty());
}
