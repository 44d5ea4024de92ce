// What a room's surfaces give back, and the part of an opening that the sun clears, by hand.

#include "../../src/study/room_surfaces.hpp"

#include <catch2/catch.hpp>

#include "workshop.hpp"

using namespace keyhour;
using namespace keyhour::study;

TEST_CASE("a room's two halves about a window's middle give back by their areas", "[light]") {
    // 7.2 x 4.6 x 3.1 m, floor 33.12; the window 1.4 x 1.6 at 0.75, its middle at 1.55;
    // walls 7.2, 4.6, 7.2, 4.6, the first the window's.
    site::Location l = Workshop{}.location();
    room::Room& r = *l.room;
    r.reflectance = {0.3, 0.6, 0.8};
    const auto told = reflectances_for(r, r.windows[0]);
    const double floor = 7.2 * 4.6, others = 4.6 + 7.2 + 4.6, walls = (7.2 + others) * 3.1;
    CHECK(told.area_m2 == Approx(2 * floor + walls));
    CHECK(told.mean == Approx(((walls - 2.24) * 0.6 + 2.24 * 0.1 + floor * 1.1) / told.area_m2));
    CHECK(told.lower == Approx((floor * 0.3 + others * 1.55 * 0.6) / (floor + others * 1.55)));
    CHECK(told.upper == Approx((floor * 0.8 + others * 1.55 * 0.6) / (floor + others * 1.55)));
    // A window higher up: more wall below its middle than above.
    r.windows[0].sill_m = 1.35;
    const auto high = reflectances_for(r, r.windows[0]);
    CHECK(high.lower == Approx((floor * 0.3 + others * 2.15 * 0.6) / (floor + others * 2.15)));
    CHECK(high.upper == Approx((floor * 0.8 + others * 0.95 * 0.6) / (floor + others * 0.95)));
    // Without glass its opening gives nothing back.
    r.windows[0].glass = room::Glass::none;
    CHECK(reflectances_for(r, r.windows[0]).mean ==
          Approx(((walls - 2.24) * 0.6 + floor * 1.1) / told.area_m2));
}

TEST_CASE("of an opening the sun clears what reveal times slope leaves, at head and far jamb",
          "[light]") {
    Workshop workshop;
    workshop.reveal_m = 0.4;
    const site::Location l = workshop.location();
    const room::Scene scene{*l.room};
    // Left 2.9, 1.4 wide; sill 0.75, 1.6 high.
    const auto part = [&](double altitude_deg, double aside_deg) {
        return clear_part(scene, 0, sun_at(altitude_deg, aside_deg).toward);
    };
    const auto square = part(30, 0);
    REQUIRE(square);
    CHECK(square->left_m == Approx(2.9));
    CHECK(square->right_m == Approx(4.3));
    CHECK(square->low_m == Approx(0.75));
    CHECK(square->high_m == Approx(2.35 - 0.4 * std::tan(30 * std::numbers::pi / 180)));
    // The sun to the right of who looks out: the right jamb shades the inner plane's right side.
    const auto aside = part(20, 35);
    REQUIRE(aside);
    CHECK(aside->right_m == Approx(4.3 - 0.4 * std::tan(35 * std::numbers::pi / 180)));
    CHECK(aside->left_m == Approx(2.9));
    const auto other = part(20, -35);
    REQUIRE(other);
    CHECK(other->left_m == Approx(2.9 + 0.4 * std::tan(35 * std::numbers::pi / 180)));
    CHECK(other->right_m == Approx(4.3));
    CHECK_FALSE(part(20, 75));   // 0.4 tan 75 is more than the width
    CHECK_FALSE(part(20, 120));  // behind the wall
}
