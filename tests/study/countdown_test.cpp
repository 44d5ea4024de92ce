#include "keyhour/study/countdown.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>

#include "keyhour/light/clear_sky.hpp"
#include "keyhour/site/dates.hpp"
#include "support/dice.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

Instant minute(double m) {
    return Instant::from_unix_s(60 * m);
}

ShotWish wish(std::vector<std::pair<double, double>> light, double set_up, double shot) {
    ShotWish w{{}, Seconds{60 * set_up}, Seconds{60 * shot}};
    for (const auto& [from, to] : light)
        w.light.push_back({minute(from), minute(to), false, false});
    return w;
}

/// How many shots an order gives, each as early as it can be.
std::pair<std::size_t, Instant> had(const std::vector<ShotWish>& wishes,
                                    const std::vector<std::size_t>& order, Instant from) {
    std::size_t n = 0;
    for (const std::size_t i : order)
        for (const Span& light : wishes[i].light) {
            const Instant roll = std::max(from + wishes[i].set_up, light.from);
            if (roll + wishes[i].shot > light.to) continue;
            from = roll + wishes[i].shot;
            ++n;
            break;
        }
    return {n, from};
}

}  // namespace

TEST_CASE("a last start is counted back from the last light long enough", "[countdown]") {
    const auto last = last_start(wish({{100, 160}, {200, 260}, {300, 305}}, 20, 10));
    REQUIRE(last);
    CHECK(last->start == minute(230));
    CHECK(last->light.from == minute(200));
    CHECK_FALSE(last_start(wish({{100, 105}}, 20, 10)));
    CHECK_FALSE(last_start(wish({}, 20, 10)));
}

TEST_CASE("a set-up may run before the light comes, the shot may not", "[countdown]") {
    const std::vector<ShotWish> one{wish({{100, 120}}, 20, 10)};
    const auto early = still_fit(one, minute(50));
    REQUIRE(early.size() == 1);
    CHECK(early[0].set_up == minute(80));
    CHECK(early[0].roll == minute(100));
    CHECK(early[0].done == minute(110));
    const auto late = still_fit(one, minute(90));
    REQUIRE(late.size() == 1);
    CHECK(late[0].done == minute(120));
    CHECK(still_fit(one, minute(90.1)).empty());
}

TEST_CASE("one crew has as many shots as any order gives, and no later", "[countdown]") {
    test::Dice dice{40};
    int several = 0;
    for (int n = 0; n < 300; ++n) {
        std::vector<ShotWish> wishes;
        for (int i = dice.whole(1, 5); i > 0; --i) {
            const double from = dice.between(0, 150), to = from + dice.between(5, 90);
            std::vector<std::pair<double, double>> light{{from, to}};
            if (dice.chance(0.3)) light.push_back({to + 10, to + dice.between(15, 60)});
            const int length = dice.whole(1, 25), set_up = dice.whole(0, 30);
            wishes.push_back(wish(light, set_up, length));
        }
        const Instant from = minute(dice.between(-20, 120));
        std::vector<std::size_t> order(wishes.size());
        std::iota(order.begin(), order.end(), 0);
        std::size_t most = 0;
        // Every order of every subset stands at the head of some permutation.
        do {
            for (std::size_t k = 0; k <= order.size(); ++k)
                most = std::max(
                    most,
                    had(wishes, {order.begin(), order.begin() + static_cast<long>(k)}, from).first);
        } while (std::ranges::next_permutation(order).found);
        const auto found = still_fit(wishes, from);
        CAPTURE(n);
        CHECK(found.size() == most);
        Instant free = from;
        for (const TimedShot& shot : found) {
            const ShotWish& w = wishes[shot.wish];
            constexpr double rounding_s = 1e-3;  // of instants in seconds since 1970
            CHECK((shot.set_up - free).count() > -rounding_s);
            CHECK((shot.roll - shot.set_up).count() == Approx(w.set_up.count()));
            CHECK((shot.done - shot.roll).count() == Approx(w.shot.count()));
            CHECK(std::ranges::any_of(
                w.light, [&](const Span& s) { return s.from <= shot.roll && shot.done <= s.to; }));
            free = shot.done;
        }
        several += most > 1;
    }
    CHECK(several > 100);
}

TEST_CASE("a countdown's level is the beam and what a receptor turned to it sees of the sky",
          "[countdown]") {
    site::Location l;
    l.site.observer = {Angle::degrees(52), Angle{}, 0};
    l.site.horizon =
        site::Horizon{{{Angle{}, Angle::degrees(2)}, {Angle::degrees(180), Angle::degrees(2)}}};
    site::Spot spot;
    spot.name = "spot";
    spot.position = l.site.observer;
    l.spots = {spot};
    const auto track = SharedTrack::make(*site::read_utc("2026-03-09T12:00:00Z"),
                                         *site::read_utc("2026-03-11T12:00:00Z"));
    const SpotLight light{l, 0, track};
    const SpotDay day = light.on(*site::read_date("2026-03-10"));
    const auto wanted = light_wanted(day, site::Side::any);
    REQUIRE(wanted.size() == 1);
    CHECK(wanted[0].to == day.late_light.back().end);
    CHECK(wanted[0].from == day.late_light.front().start);
    const auto steps = countdown(light, wanted[0].to - Seconds{7200}, wanted[0].to);
    CHECK(steps.size() == 12);
    bool sun = false, sky = false;
    for (const CountdownStep& s : steps) {
        CHECK(std::fmod(s.at.unix_s(), 600) == 0);
        const SpotInstant now = light.at(s.at);
        CHECK(s.in_sun == now.lit);
        (s.in_sun ? sun : sky) = true;
        // A surface square to the beam sees the share (1 + cos of its tilt) / 2 of the sky.
        const double tilt =
            std::acos(-1.0) / 2 - now.sun.apparent_altitude.above_horizon.in_radians();
        const double of_sky = now.sky.diffuse_horizontal_lx.likely;
        CHECK(s.level_lx ==
              Approx(now.lit ? now.sky.direct_normal_lx.likely + of_sky * (1 + std::cos(tilt)) / 2
                             : of_sky));
    }
    CHECK((sun && sky));
}
