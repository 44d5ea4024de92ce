#include "keyhour/study/ground.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "flax_road.hpp"
#include "keyhour/study/clean_key.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

double area_of(const std::vector<room::Ring>& rings) {
    double sum = 0;
    for (const room::Ring& ring : rings)
        sum += room::signed_area(ring);
    return sum;
}

bool within(const std::vector<room::Ring>& rings, room::Point2 p) {
    return std::ranges::any_of(rings, [&](const auto& ring) { return room::contains(ring, p); });
}

/// A pole 4 cm thick.
room::Building pole(room::Point2 at, double height_m) {
    constexpr double r = 0.02;
    return {
        "pole",
        {{at.x - r, at.y - r}, {at.x + r, at.y - r}, {at.x + r, at.y + r}, {at.x - r, at.y + r}},
        height_m};
}

/// What the pole takes from the mark at most, over the hold.
double taken(const RoomStudy& study, const KeyInterval& key, const room::Building& pole) {
    room::Room with = study.room(), without = study.room();
    without.buildings.clear();
    with.buildings = {pole};
    const room::Scene clear{without}, shaded{with};
    double most = 0;
    for (Instant t = key.span->from; t < key.span->to; t = t + Seconds{60}) {
        const room::Point3 sun = study.sun(study.path().at(t));
        most = std::max(most, clear.coverage(key.mark, key.window, sun) -
                                  shaded.coverage(key.mark, key.window, sun));
    }
    return most;
}

}  // namespace

TEST_CASE("a shadow's area is its thing's and its outline's times its length", "[study][ground]") {
    const room::Ring square{{0, 0}, {2, 0}, {2, 2}, {0, 2}};
    const double half = std::sqrt(0.5);
    // Sun 45 degrees high: a shadow as long as the thing is tall, square to a side and across.
    CHECK(area_of(ground_shadow(square, 3, {0, half, half})) == Approx(4 + 2 * 3));
    CHECK(area_of(ground_shadow(square, 3, {-0.5, 0.5, half})) ==
          Approx(4 + 2 * std::sqrt(2.0) * 3));
    const auto west_sun = ground_shadow({square.rbegin(), square.rend()}, 3, {-half, 0, half});
    CHECK(within(west_sun, {4.9, 1}));
    CHECK_FALSE(within(west_sun, {5.1, 1}));
    CHECK_FALSE(within(west_sun, {-0.1, 1}));
    CHECK(ground_shadow(square, 3, {0, 1, 0}).empty());
}

TEST_CASE("what stands off the clear ground takes no light of a key, what stands on it does",
          "[study][ground]") {
    const site::LocalDate date{date::year{2026} / 6 / 21};
    const OnDates hat_works{flax_road(), date, date};
    const auto keys =
        clean_key(hat_works.study, hat_works.start_of(date), hat_works.start_of(date, 1));
    const auto key = std::ranges::find_if(keys, [](const auto& k) { return k.span.has_value(); });
    REQUIRE(key != keys.end());
    for (const double height_m : {3.5, 5.0}) {
        const ClearGround clear =
            clear_ground(hat_works.study, key->window, key->mark, *key->span, height_m);
        REQUIRE(clear.outlines.size() == 1);
        int on = 0, off = 0;
        for (double x = -12; x < 14; x += 0.37)
            for (double y = -20; y < -0.4; y += 0.53) {
                const room::Point2 at{x, y};
                const double loss = taken(hat_works.study, *key, pole(at, height_m));
                if (!within(clear.outlines, at) &&
                    !within(clear.outlines, at + room::Point2{0.04, 0}) &&
                    !within(clear.outlines, at + room::Point2{-0.04, 0})) {
                    CHECK(loss < 1e-9);
                    ++off;
                } else if (within(clear.outlines, at + room::Point2{0.2, 0}) &&
                           within(clear.outlines, at + room::Point2{-0.2, 0}) &&
                           within(clear.outlines, at + room::Point2{0, -0.5})) {
                    CHECK(loss > 0);
                    ++on;
                }
            }
        CHECK(on >= 15);
        CHECK(off > 1000);
        // Below the lowest ray anything may stand, even against the wall.
        const room::Window& window = hat_works.study.room().windows[key->window];
        const double left = window.left_m + window.width_m / 2;
        CHECK(taken(hat_works.study, *key, pole({left, -0.5}, clear.lowest_ray_m - 0.01)) == 0);
        CHECK(clear.lowest_ray_m >= window.sill_m + hat_works.study.room().floor_above_ground_m);
    }
    // Every ray passes more than 2 m over the ground: people and cars may stand anywhere.
    CHECK(clear_ground(hat_works.study, key->window, key->mark, *key->span, 2).outlines.empty());
    // Nothing passes low over the ground before an upper floor.
    site::Location upstairs = flax_road();
    upstairs.room->floor_above_ground_m = 6;
    const OnDates above{upstairs, date, date};
    CHECK(clear_ground(above.study, key->window, key->mark, *key->span, 3.5).outlines.empty());
}

TEST_CASE("the lowest ray to a box is the lowest one to its corners", "[study][ground]") {
    using namespace date::literals;
    WorkedRoom worked;
    worked.box_m = {0.5, 0.4, 0.3};  // about (3, 2.5, 1.2)
    const OnDates room{worked.location(), 2026_y / 2 / 15, 2026_y / 2 / 15};
    std::optional<Span> hold;
    double lowest = 1e9;
    for (int i = 0; i < 1440; ++i) {
        const Moment m = room.study.path().at(room.start_of(room.first) + i * Seconds{60});
        const room::Point3 sun = room.study.sun(m);
        if (m.altitude_deg <= 0 || room.study.scene().coverage(0, 0, sun) < 1) continue;
        if (!hold) hold = Span{m.at, m.at, false, false};
        hold->to = m.at;
        // Up the ray to the wall's outer face, y = -0.3.
        for (const double x : {-0.25, 0.25})
            for (const double y : {-0.2, 0.2})
                for (const double z : {-0.15, 0.15}) {
                    const room::Point3 corner{3 + x, 2.5 + y, 1.2 + z};
                    lowest = std::min(lowest, corner.z + (corner.y + 0.3) / -sun.y * sun.z);
                }
    }
    REQUIRE(hold);
    REQUIRE(hold->length() > Seconds{600});
    const ClearGround ground = clear_ground(room.study, 0, 0, *hold, 5);
    CHECK(ground.lowest_ray_m == Approx(lowest).margin(0.005));
}
