// Keys and leaks that a grid of bearings or of times once lost: each was found by brute force in a
// room thrown at random, and stands here in the plainest room that shows it.

#include <date/date.h>

#include <catch2/catch.hpp>

#include "keyhour/study/lock.hpp"
#include "support/sampled_key.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

constexpr Seconds day{86400};

const Instant march_10 =
    Instant::from_unix(date::sys_days{date::year{2026} / 3 / 10}.time_since_epoch());

/// The worked room, before it two walls with a gap between them: straight out from the window's
/// middle, 30 m high.
struct Slit {
    double gap_m = 0.065, away_m = 10, within_deg = 2;
    double window_m = 1.2;  ///< wide
    double aside_m = 0;     ///< the gap, off the window's middle

    [[nodiscard]] site::Location location() const {
        WorkedRoom worked;
        worked.radius_m = 0.01;
        worked.faces_deg = 240;
        worked.within_deg = within_deg;
        site::Location l = worked.location();
        room::Window& window = l.room->windows[0];
        window.left_m = 3 - window_m / 2;
        window.width_m = window_m;
        const auto wall = room::wall_frame(l.room->floor, 0);
        for (const double side : {-1.0, 1.0}) {
            const auto at = [&](double aside, double out) {
                return wall.left_corner + (3 + aside_m + side * (gap_m / 2 + aside)) * wall.u +
                       (away_m + out) * wall.n;
            };
            room::Building b;
            b.name = side < 0 ? "left" : "right";
            b.footprint = {at(0, 0), at(40, 0), at(40, 0.05), at(0, 0.05)};
            b.height_m = 60;
            l.room->buildings.push_back(b);
        }
        return l;
    }
};

KeySettings point_settings(double shortest_s = 60) {
    KeySettings s;
    s.coverage = 0.5;
    s.altitude_deg[0] = 0;
    s.altitude_deg[1] = 90;
    s.shortest = Seconds{shortest_s};
    return s;
}

struct Asked {
    site::Location location;
    KeySettings settings;
    RoomStudy study{location, SharedTrack::make(march_10 - 2 * day, march_10 + 12 * day)};
    std::vector<KeyInterval> found = clean_key(study, march_10, march_10 + day, settings);

    /// Does anything let the condition hold at `t`, bearings a fiftieth of a degree apart?
    template <class Holds>
    [[nodiscard]] bool at_some(Instant t, const Holds& holds) const {
        return !at_every(
            t, [&](const Moment& m, const room::PlanTurn& turn) { return !holds(m, turn); });
    }
    template <class Holds>
    [[nodiscard]] bool at_every(Instant t, const Holds& holds) const {
        const Moment m = study.path().at(t);
        const double within = location.room->bearing.within.in_degrees();
        const int n = static_cast<int>(std::ceil(within / 0.02));
        for (int i = -n; i <= n; ++i)
            if (!holds(m, room::PlanTurn{{wrapped_turn(room::plan_bearing(study.room()).from_north +
                                                       Angle::degrees(within * i / n))}}))
                return false;
        return true;
    }
    [[nodiscard]] auto is_key() const {
        return [key = test::SampledKey{study, settings, 0, {}, 0}](
                   const Moment& m, const room::PlanTurn& turn) { return key.margin(m, turn) > 0; };
    }
};

constexpr Seconds second{1};

}  // namespace

TEST_CASE("what is possible runs on between two bearings half a degree apart", "[study]") {
    // At each bearing the key holds for a little over a minute, and two minutes later at the next.
    const Asked a{Slit{}.location(), point_settings()};
    REQUIRE(a.found.size() == 1);
    const KeyInterval& k = a.found[0];
    REQUIRE(k.span);
    CHECK(k.hold() > Seconds{60});
    CHECK(k.hold() < Seconds{110});
    CHECK_FALSE(k.sure);
    CHECK(k.possible.length() > Seconds{13 * 60});
    for (Instant t = k.possible.from + second; t < k.possible.to; t = t + Seconds{5})
        CHECK(a.at_some(t, a.is_key()));
    CHECK_FALSE(a.at_some(k.possible.from - Seconds{2}, a.is_key()));
    CHECK_FALSE(a.at_some(k.possible.to + Seconds{2}, a.is_key()));
}

TEST_CASE("a key through a gap a fifth of a degree wide is found, on its date and in a range",
          "[study]") {
    // Off the middle, wherever a grid of cells may lie.
    for (const double aside_m : {0.0, 0.11, 0.27, 0.5, -0.3}) {
        CAPTURE(aside_m);
        const Asked a{Slit{.gap_m = 0.0436, .aside_m = aside_m}.location(), point_settings(20)};
        REQUIRE(a.found.size() == 1);
        REQUIRE(a.found[0].span);
        CHECK(a.found[0].hold() > Seconds{30});
        CHECK(a.found[0].hold() < Seconds{60});
        const auto range = clean_key(a.study, march_10, march_10 + 10 * day, a.settings);
        CHECK(range.size() == 10);
    }
}

TEST_CASE("a sure part of two minutes is told on a single date", "[study]") {
    const Asked a{Slit{.gap_m = 0.33, .within_deg = 0.5}.location(), point_settings()};
    REQUIRE(a.found.size() == 1);
    REQUIRE(a.found[0].sure);
    const Span sure = *a.found[0].sure;
    CHECK(sure.length() > Seconds{60});
    CHECK(sure.length() < Seconds{240});
    CHECK(a.at_every(sure.from + second, a.is_key()));
    CHECK(a.at_every(sure.to - second, a.is_key()));
    CHECK_FALSE(a.at_every(sure.from - second, a.is_key()));
    CHECK_FALSE(a.at_every(sure.to + second, a.is_key()));
}

TEST_CASE("a date alone has its keys to a tenth of a second as a range has them", "[study]") {
    const Asked a{Slit{.gap_m = 0.33, .within_deg = 0.5}.location(), point_settings()};
    const auto range = clean_key(a.study, march_10 - day, march_10 + 10 * day, a.settings);
    const auto same = [](const Span& one, const Span& other) {
        CHECK(std::abs((one.from - other.from).count()) <= 0.1);
        CHECK(std::abs((one.to - other.to).count()) <= 0.1);
    };
    int looked_at = 0;
    for (const KeyInterval& k : range) {
        const Instant date = march_10 + std::floor((k.span->from - march_10) / day) * day;
        const auto alone = clean_key(a.study, date, date + day, a.settings);
        REQUIRE(alone.size() == 1);
        same(*alone[0].span, *k.span);
        same(alone[0].possible, k.possible);
        REQUIRE(alone[0].sure);
        same(*alone[0].sure, *k.sure);
        ++looked_at;
    }
    CHECK(looked_at == 11);
}

TEST_CASE("a leak that some bearing keeps up without a break is one, safe from its first sun",
          "[study]") {
    // Through a window of 10 cm the gap lets sun in for a minute or so at each bearing.
    const Asked a{Slit{.gap_m = 0.06, .away_m = 40, .window_m = 0.1}.location(), point_settings()};
    const auto comes_in = [&](const Moment& m, const room::PlanTurn& turn) {
        return sun_in_margin(a.study, 0, m, turn) > 0;
    };
    const auto lock = leaks_of_lock(a.study, march_10 + Seconds{8 * 3600}, march_10 + day);
    REQUIRE(lock.leaks.size() == 1);
    const Leak& leak = lock.leaks[0];
    REQUIRE(leak.span);
    CHECK(leak.span->length() < Seconds{90});
    CHECK(leak.possible.length() > Seconds{13 * 60});
    for (Instant t = leak.possible.from + second; t < leak.possible.to; t = t + Seconds{5})
        CHECK(a.at_some(t, comes_in));
    REQUIRE(lock.covers.size() == 1);
    CHECK(lock.covers[0].sure_by == leak.possible.from);
    CHECK(lock.covers[0].needed_by == leak.span->from);
    // No sun at any bearing before the time to be safe.
    for (Instant t = lock.lock.from; t < lock.covers[0].sure_by - second; t = t + Seconds{20})
        CHECK_FALSE(a.at_some(t, comes_in));

    // A lock that begins when the sun has gone by at the stated bearing has a possible leak alone.
    const auto late = leaks_of_lock(a.study, leak.span->to + Seconds{60}, march_10 + day);
    REQUIRE(late.leaks.size() == 1);
    CHECK_FALSE(late.leaks[0].span);
    CHECK(late.leaks[0].possible.from == late.lock.from);
    CHECK((late.leaks[0].possible.to - leak.possible.to).count() == Approx(0).margin(0.1));
    REQUIRE(late.covers.size() == 1);
    CHECK_FALSE(late.covers[0].needed_by);
    CHECK(late.covers[0].sure_by == late.lock.from);
}

TEST_CASE("a lock reaches a mark that looks round a corner of the walls", "[study]") {
    WorkedRoom worked;
    worked.within_deg = 0;
    site::Location l = worked.location();
    l.room->floor = {{0, 0}, {6, 0}, {6, 3}, {3, 3}, {3, 6}, {0, 6}};
    l.room->walls = {"window", "right", "notch", "side", "back", "left"};
    room::Window& window = l.room->windows[0];
    const auto wall = room::wall_frame(l.room->floor, 0);
    const room::Point2 left_jamb = wall.u.x > 0 ? room::Point2{4, 0} : room::Point2{5, 0};
    window.left_m = length(left_jamb - wall.left_corner);
    window.width_m = 1;
    // Past the corner at (3, 3) only what lies left of x = 2.67 sees the window.
    l.room->marks = {{"mark", {2.72, 4}, 1.2, 0.15, {}}, {"hidden", {2.84, 4}, 1.2, 0.1, {}}};
    const Instant from = Instant::from_unix(
        date::sys_days{date::year{2026} / 12 / 21}.time_since_epoch() + std::chrono::hours{11});
    const RoomStudy study{l, SharedTrack::make(from - day, from + 2 * day)};
    CHECK_FALSE(study.scene().faces(0, 0));
    double most[] = {0, 0};
    for (int minute = 0; minute < 300; ++minute) {
        const Moment m = study.path().at(from + Seconds{60.0 * minute});
        for (const std::size_t mark : {0U, 1U})
            if (m.altitude_deg > 0)
                most[mark] = std::max(most[mark], study.scene().coverage(mark, 0, study.sun(m)));
    }
    CHECK(most[0] > 0.1);
    CHECK(most[0] < 0.5);
    CHECK(most[1] == 0);
    const auto lock = leaks_of_lock(study, from, from + Seconds{5 * 3600});
    REQUIRE(lock.leaks.size() == 1);
    CHECK(lock.leaks[0].marks == std::vector<std::size_t>{0});
}

TEST_CASE("what no bearing holds for long enough is not told, however long one or another does",
          "[study]") {
    // Through the gap each bearing has its own minute or two of thirteen.
    const Slit slit;
    const Asked usual{slit.location(), point_settings()};
    REQUIRE(usual.found.size() == 1);
    const Span run = usual.found[0].possible;
    REQUIRE(run.length() > Seconds{13 * 60});
    const auto is_key = usual.is_key();
    double longest_s = 0;
    for (double by = -slit.within_deg; by <= slit.within_deg; by += 0.05) {
        const room::PlanTurn turn{
            {wrapped_turn(room::plan_bearing(usual.study.room()).from_north + Angle::degrees(by))}};
        double held_s = 0;
        for (Instant t = run.from; t < run.to; t = t + second) {
            held_s = is_key(usual.study.path().at(t), turn) ? held_s + 1 : 0;
            longest_s = std::max(longest_s, held_s);
        }
    }
    CHECK(longest_s < 150);
    CHECK(Asked{slit.location(), point_settings(longest_s - 4)}.found.size() == 1);
    for (const double shortest_s : {longest_s + 4, 300.0, 720.0}) {
        CAPTURE(longest_s, shortest_s);
        CHECK(Asked{slit.location(), point_settings(shortest_s)}.found.empty());
    }
}

TEST_CASE("a wide doubt brings in what the sun meets at a far turned bearing alone", "[study]") {
    // Each run of the day that some bearing within twelve degrees gives, and no more.
    std::size_t looked_at = 0, alone = 0;
    for (const double faces_deg : {206.0, 211.0, 215.0, 225.0, 252.0}) {
        CAPTURE(faces_deg);
        WorkedRoom worked;
        worked.radius_m = 0.01;
        worked.faces_deg = faces_deg;
        worked.within_deg = 12;
        const Asked a{worked.location(), point_settings()};
        std::vector<room::PlanTurn> turns;
        for (double by = -12; by <= 12; by += 0.25)
            turns.emplace_back(Azimuth{
                wrapped_turn(room::plan_bearing(a.study.room()).from_north + Angle::degrees(by))});
        const auto is_key = a.is_key();
        std::vector<Span> runs;
        constexpr Seconds step{20};
        for (Instant t = march_10; t < march_10 + day; t = t + step) {
            const Moment m = a.study.path().at(t);
            if (m.altitude_deg <= 0 ||
                std::ranges::none_of(turns, [&](const auto& turn) { return is_key(m, turn); }))
                continue;
            if (runs.empty() || t - runs.back().to > 1.5 * step)
                runs.push_back({t, t, false, false});
            runs.back().to = t;
        }
        REQUIRE(a.found.size() == runs.size());
        for (std::size_t i = 0; i < runs.size(); ++i) {
            ++looked_at;
            if (!a.found[i].span) ++alone;
            CHECK((a.found[i].possible.from - runs[i].from).count() == Approx(0).margin(60));
            CHECK((a.found[i].possible.to - runs[i].to).count() == Approx(0).margin(60));
        }
    }
    CHECK(looked_at == 5);
    CHECK(alone == 3);
}
