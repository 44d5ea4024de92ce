#include "keyhour/study/lock.hpp"

#include <date/date.h>

#include <catch2/catch.hpp>

#include "keyhour/study/sun_free.hpp"
#include "support/random_room.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

const date::year_month_day march_10 = date::year{2026} / 3 / 10;

Instant utc(int hour, int minute = 0) {
    return Instant::from_unix_s(static_cast<double>(
        std::chrono::seconds{date::sys_days{march_10}.time_since_epoch()}.count() + hour * 3600 +
        minute * 60));
}

/// The worked room with a second window, which looks to the south-east.
site::Location two_windows() {
    site::Location l = WorkedRoom{}.location();
    room::Window w = l.room->windows[0];
    w.name = "side window";
    w.wall = 1;
    w.left_m = 1;
    l.room->windows.push_back(w);
    return l;
}

struct Asked {
    site::Location location = two_windows();
    RoomStudy study{location,
                    SharedTrack::make(utc(0) - Seconds{86400}, utc(0) + Seconds{3 * 86400})};
};

}  // namespace

TEST_CASE("spans with and without sun share the day between them", "[study]") {
    const Asked a;
    const auto sun = sun_spans(a.study, 0, utc(0), utc(24));
    REQUIRE(sun.size() == 1);
    LampSettings s;
    s.lock = Seconds{60};
    s.window = "window";
    const auto free = sun_free_spans(a.study, march_10, true, s);
    REQUIRE(free.size() == 2);
    const auto& morning = free[0].span->from == utc(0) ? free[0] : free[1];
    const auto& night = free[0].span->from == utc(0) ? free[1] : free[0];
    CHECK(morning.begins_by.kind == room::Edge::midnight);
    CHECK((morning.span->to - sun[0].from).count() == Approx(0).margin(0.2));
    CHECK((night.span->from - sun[0].to).count() == Approx(0).margin(0.2));
    CHECK(night.begins_by.kind == room::Edge::horizon);
    CHECK(night.span->to > utc(24));  // it runs on until the sun comes in on the next day
    CHECK(morning.sure->to < morning.span->to);
    CHECK(morning.possible.to > morning.span->to);
    // The night's span belongs to this date, not to the next one.
    const auto next = date::year_month_day{date::sys_days{march_10} + date::days{1}};
    for (const auto& span : sun_free_spans(a.study, next, false, s))
        CHECK(span.span->from > utc(24));
}

TEST_CASE("a north window is free of sun for the whole day", "[study]") {
    WorkedRoom north;
    north.faces_deg = 0;
    const site::Location location = north.location();
    const RoomStudy study{location,
                          SharedTrack::make(utc(0) - Seconds{86400}, utc(0) + Seconds{3 * 86400})};
    const auto free = sun_free_spans(study, march_10, true);
    REQUIRE(free.size() == 1);
    CHECK(free[0].whole_day);
    CHECK(free[0].hold() == Seconds{86400});
    CHECK(free[0].sure_hold() == Seconds{86400});
}

TEST_CASE("a lock's leaks are the sun spans cut to it, and each has its cover", "[study]") {
    const Asked a;
    const auto answer = leaks_of_lock(a.study, utc(12), utc(15));
    const auto sun = sun_spans(a.study, 0, utc(0), utc(24));
    REQUIRE_FALSE(answer.leaks.empty());
    const Leak& leak = answer.leaks[0];
    REQUIRE(leak.span);
    CHECK(leak.window == 0);
    CHECK((leak.span->from - std::max(sun[0].from, utc(12))).count() == Approx(0).margin(0.2));
    CHECK(leak.span->to == utc(15));
    CHECK(leak.ends_by.kind == room::Edge::none);
    CHECK_FALSE(leak.surfaces.empty());
    REQUIRE_FALSE(answer.covers.empty());
    CHECK(answer.covers[0].width_m == 1.2);
    CHECK(answer.covers[0].sure_by <= *answer.covers[0].needed_by);
    CHECK(answer.cover_area_m2() >= 1.8 - 1e-9);
}

TEST_CASE("a lock's leaks through a window come in the day's order, the doubtful among them",
          "[study]") {
    test::Dice dice{20261129};
    int doubtful_first = 0;
    for (int i = 0; i < 8; ++i) {
        site::Location place = WorkedRoom{}.location();
        place.room = test::random_room(dice);
        place.room->bearing.within = Angle::degrees(8);
        const RoomStudy study{
            place, SharedTrack::make(utc(0) - Seconds{86400}, utc(0) + Seconds{3 * 86400})};
        const auto answer = leaks_of_lock(study, utc(0), utc(24));
        for (std::size_t k = 1; k < answer.leaks.size(); ++k) {
            const Leak &before = answer.leaks[k - 1], &leak = answer.leaks[k];
            if (before.window != leak.window) continue;
            CHECK(before.possible.from <= leak.possible.from);
            doubtful_first += !before.span && leak.span;
        }
    }
    CHECK(doubtful_first > 0);
}

TEST_CASE("a lock by night has no leak", "[study]") {
    const Asked a;
    const auto answer = leaks_of_lock(a.study, utc(20), utc(23));
    CHECK(answer.leaks.empty());
    CHECK(answer.covers.empty());
}

TEST_CASE("the best place for a lock needs no cover where the sun leaves room for it", "[study]") {
    const Asked a;
    const auto answer = best_lock(a.study, utc(6), utc(20), Seconds{2 * 3600});
    REQUIRE(answer);
    CHECK(answer->covers.empty());
    CHECK(answer->lock.from > utc(12));  // when the sun has left the side window
    CHECK(answer->lock.length() == Seconds{2 * 3600});
    CHECK_FALSE(best_lock(a.study, utc(6), utc(7), Seconds{2 * 3600}));
}

TEST_CASE("a lock is placed where least sun comes through the key window, whatever must be covered",
          "[study]") {
    const Asked a;
    const auto through = [](const LockAnswer& answer, std::size_t window) {
        Seconds sum{0};
        for (const Leak& leak : answer.leaks)
            if (leak.window == window) sum += leak.possible.length();
        return sum;
    };
    // The side window has the morning, the first one the afternoon; between them both have some.
    const Seconds length{3 * 3600};
    const auto open = best_lock(a.study, utc(8), utc(15, 30), length);
    const auto by_first = best_lock(a.study, utc(8), utc(15, 30), length, 0);
    const auto by_side = best_lock(a.study, utc(8), utc(15, 30), length, 1);
    REQUIRE(open);
    REQUIRE(by_first);
    REQUIRE(by_side);
    Seconds least{1e9};
    for (Instant start = utc(8); start + length <= utc(15, 30); start = start + Seconds{600})
        least = std::min(least, through(leaks_of_lock(a.study, start, start + length), 0));
    CHECK((through(*by_first, 0) - least).count() == Approx(0).margin(1));
    CHECK(through(*by_first, 1) > Seconds{0});
    CHECK(by_first->lock.to < by_side->lock.to);
    CHECK(through(*by_side, 1) < through(*by_first, 1));
    CHECK(through(*by_first, 0) < through(*by_side, 0));
    // The key window stays open: its leaks are told, and have no cover.
    REQUIRE(by_first->covers.size() == 1);
    CHECK(by_first->covers[0].window == 1);
    const auto key = leaks_of_lock(a.study, utc(13), utc(15), 0);
    CHECK(through(key, 0) > Seconds{0});
    for (const CoverToHang& cover : key.covers)
        CHECK(cover.window != 0);
}
