// Several rooms on one day, checked with ways that can be reckoned by hand.

#include "keyhour/study/visit.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <numeric>
#include <optional>

#include "support/dice.hpp"

using namespace keyhour;
using study::Span;
using study::VisitPlan;
using study::VisitRoom;
using study::VisitSettings;

namespace {

const Instant eight = Instant::from_unix_s(1773129600);  // 2026-03-10T08:00Z

Instant minute(double m) {
    return eight + Seconds{60 * m};
}

VisitRoom room_at(double longitude_deg, std::vector<std::pair<double, double>> holds) {
    VisitRoom room{{Angle::degrees(0), Angle::degrees(longitude_deg)}, {}};
    for (const auto& [from, to] : holds)
        room.holds.push_back({minute(from), minute(to), false, false});
    return room;
}

/// Every order of every set, tried out.
std::pair<std::size_t, std::optional<Instant>> best_by_trial(const std::vector<VisitRoom>& rooms,
                                                             const VisitSettings& settings) {
    std::vector<std::size_t> order(rooms.size());
    std::iota(order.begin(), order.end(), 0U);
    std::pair<std::size_t, std::optional<Instant>> best{0, std::nullopt};
    do {
        std::optional<Instant> end;
        for (std::size_t n = 0; n < order.size(); ++n) {
            const VisitRoom& room = rooms[order[n]];
            std::optional<Instant> ready;
            if (n > 0) {
                // On the equator the geodesic is an arc of 6378137 m radius.
                const double metres =
                    6378137 *
                    std::abs(
                        (room.place.longitude - rooms[order[n - 1]].place.longitude).in_radians());
                ready = *end + Seconds{metres * settings.detour / (settings.speed_kmh / 3.6)} +
                        settings.setup;
            }
            std::optional<Instant> earliest;
            for (const Span& hold : room.holds) {
                const Instant start = ready ? std::max(hold.from, *ready) : hold.from;
                if (start + settings.work > hold.to) continue;
                if (!earliest || start + settings.work < *earliest)
                    earliest = start + settings.work;
            }
            if (!earliest) break;
            end = earliest;
            if (n + 1 > best.first || (n + 1 == best.first && *end < *best.second))
                best = {n + 1, end};
        }
    } while (std::next_permutation(order.begin(), order.end()));
    return best;
}

}  // namespace

TEST_CASE("two rooms an hour apart are reached one after the other, with the slack left",
          "[study]") {
    // One degree of the equator is 111319.49 m: WGS 84, a = 6378137 m, pi a / 180.
    VisitSettings settings;
    settings.speed_kmh = 111.31949;
    settings.detour = 1;
    settings.setup = Seconds{1800};
    settings.work = Seconds{1200};
    const std::vector<VisitRoom> rooms{room_at(1, {{120, 180}}), room_at(0, {{0, 40}})};
    const VisitPlan plan = study::plan_visit(rooms, settings);
    REQUIRE(plan.stops.size() == 2);
    CHECK(plan.left_out.empty());
    CHECK(plan.stops[0].room == 1);
    CHECK(plan.stops[0].start == minute(0));
    CHECK(plan.stops[0].arrive == minute(-30));
    CHECK(plan.stops[1].distance_m == Approx(111319.49).margin(0.01));
    CHECK(plan.stops[1].travel.count() == Approx(3600).margin(0.01));
    CHECK((plan.stops[1].arrive - minute(80)).count() == Approx(0).margin(0.01));
    CHECK((plan.stops[1].start - minute(120)).count() == Approx(0).margin(0.01));
    // It may start at 160 and be done at 180; the first at 20, and be over at 40: then 100, 130.
    CHECK(plan.stops[1].slack.count() == Approx(40 * 60).margin(0.01));
    CHECK(plan.stops[0].slack.count() == Approx(20 * 60).margin(0.01));
}

TEST_CASE("a room whose light ends too early is left out", "[study]") {
    VisitSettings settings;
    settings.speed_kmh = 60;
    const std::vector<VisitRoom> rooms{room_at(0, {{0, 60}}), room_at(1, {{0, 100}}),
                                       room_at(0.01, {})};
    const VisitPlan plan = study::plan_visit(rooms, settings);
    REQUIRE(plan.stops.size() == 1);
    CHECK(plan.left_out == std::vector<std::size_t>{1, 2});
    CHECK(study::plan_visit({}, settings).stops.empty());
}

TEST_CASE("no order of the rooms reaches more, or ends sooner", "[study]") {
    keyhour::test::Dice dice{77};
    for (int round = 0; round < 60; ++round) {
        std::vector<VisitRoom> rooms;
        const int n = 2 + round % 5;
        for (int i = 0; i < n; ++i) {
            std::vector<std::pair<double, double>> holds;
            for (int k = 0; k < 1 + round % 3; ++k) {
                const double from = dice.between(0, 500);
                holds.emplace_back(from, from + dice.between(10, 150));
            }
            rooms.push_back(room_at(dice.between(0, 0.6), holds));
        }
        VisitSettings settings;
        settings.speed_kmh = 50;
        settings.setup = Seconds{60 * dice.between(0, 40)};
        settings.work = Seconds{60 * dice.between(5, 40)};
        const VisitPlan plan = study::plan_visit(rooms, settings);
        const auto [count, end] = best_by_trial(rooms, settings);
        INFO("round " << round);
        REQUIRE(plan.stops.size() == count);
        CHECK(plan.stops.size() + plan.left_out.size() == rooms.size());
        if (count == 0) continue;
        CHECK((plan.stops.back().end - *end).count() == Approx(0).margin(0.01));
        for (std::size_t i = 0; i < plan.stops.size(); ++i) {
            const auto& stop = plan.stops[i];
            const Span& hold = rooms[stop.room].holds[stop.hold];
            CHECK(stop.start >= hold.from);
            CHECK(stop.end + stop.slack <= hold.to + Seconds{1e-3});
            CHECK(stop.arrive + settings.setup <= stop.start + Seconds{1e-3});
            CHECK(stop.slack.count() >= -1e-3);
        }
    }
}

TEST_CASE("a stop's slack is what the next one's leaves it, after way, set-up and work",
          "[visit]") {
    // A degree of the equator by half: 55.66 km, by road 72.4: 72.4 minutes at 60 km/h.
    VisitSettings settings;
    settings.speed_kmh = 60;
    const std::vector<VisitRoom> rooms{room_at(0, {{0, 300}}), room_at(0.5, {{200, 260}})};
    const VisitPlan plan = study::plan_visit(rooms, settings);
    REQUIRE(plan.stops.size() == 2);
    CHECK(plan.stops[0].start == minute(0));
    CHECK(plan.stops[1].start == minute(200));
    CHECK(plan.stops[1].slack.count() / 60 == Approx(30));  // ends at 230 of 260
    const double way = 6378137 * 0.5 * 3.14159265358979 / 180 * 1.3 / 1000;
    CHECK(plan.stops[1].travel.count() / 60 == Approx(way));
    // Its work may end at 260 - 30 - 30 - way at the latest; it ends at 30.
    CHECK(plan.stops[0].slack.count() / 60 == Approx(260 - 30 - 30 - way - 30));
}
