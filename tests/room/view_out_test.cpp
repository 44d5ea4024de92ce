#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "keyhour/light/configuration_factor.hpp"
#include "keyhour/room/scene.hpp"

using namespace keyhour;
using namespace keyhour::room;

namespace {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

constexpr int parts = 10;

/// 6 x 6 x 3 m; a window of 1.2 x 1.6 m in the wall y = 0, which looks along -y.
Room plain_room(double reveal_m) {
    Room r;
    r.floor = {{0, 0}, {6, 0}, {6, 6}, {0, 6}};
    r.walls = {"window", "right", "back", "left"};
    r.height_m = 3;
    r.bearing.faces = Angle::degrees(180);
    Window w;
    w.name = "window";
    w.left_m = 2.4;
    w.width_m = 1.2;
    w.sill_m = 0.7;
    w.height_m = 1.6;
    w.reveal_m = reveal_m;
    r.windows = {w};
    return r;
}

double level_skyline(Point2) {
    return 0;
}

struct Factors {
    double cloth = 0, sky = 0, ground = 0, building = 0;
};

/// Configuration factors for a plane parallel to the window.
Factors factors(const Room& room, Point3 from, const Skyline& skyline = level_skyline) {
    Factors f;
    for (const ViewPart& v : Scene{room}.view_out(0, from, skyline, parts, parts)) {
        const double all = v.solid_angle_sr * v.incidence_cosine / std::numbers::pi;
        f.cloth += all * v.cloth;
        f.sky += all * v.sky;
        f.ground += all * v.ground;
        f.building += all * v.building;
    }
    return f;
}

// The closed form of the handbooks (light/configuration_factor.hpp) says what each is of the
// rectangle that is seen.

TEST_CASE("through a thin wall a point sees the whole opening, half of it over its horizon",
          "[room]") {
    const Factors f = factors(plain_room(0), {3, 2, 1.5});
    const double whole = light::parallel_factor({-0.6, 0.6, -0.8, 0.8, 2});
    CHECK_THAT(f.cloth, WithinRel(whole, 0.005));
    CHECK_THAT(f.sky, WithinRel(whole / 2, 0.005));
    CHECK_THAT(f.ground, WithinRel(whole / 2, 0.005));
    CHECK(f.building == 0);
}

TEST_CASE("a point sees the outside through the outer rectangle of a reveal", "[room]") {
    const Factors f = factors(plain_room(0.4), {3, 2, 1.5});
    CHECK_THAT(f.sky + f.ground,
               WithinRel(light::parallel_factor({-0.6, 0.6, -0.8, 0.8, 2.4}), 0.005));
    CHECK_THAT(f.cloth, WithinRel(light::parallel_factor({-0.6, 0.6, -0.8, 0.8, 2}), 0.005));
    // From aside one jamb's outer edge and the other's inner one: u = 2 m to the right of the
    // left jamb at 0.4 m of depth stands at (2.4 / 2) of the offset.
    const Factors aside = factors(plain_room(0.4), {4.5, 2, 1.5});
    const double far_jamb_m = -2.1 * 2 / 2.4, near_jamb_m = -0.9;
    CHECK_THAT(aside.sky + aside.ground,
               WithinRel(light::parallel_factor(
                             {far_jamb_m, near_jamb_m, -0.8 * 2 / 2.4, 0.8 * 2 / 2.4, 2}),
                         0.02));
}

TEST_CASE("a long building takes what lies below its roof line", "[room]") {
    Room r = plain_room(0);
    r.floor_above_ground_m = 0.5;
    // From a point 2 m in and 1.5 m high its roof, 8 m away and 3.1 m over the floor, stands 0.4 m
    // over the level line in the opening.
    Building row;
    row.footprint = {{-200, -6}, {200, -6}, {200, -9}, {-200, -9}};
    row.height_m = 3.6;
    r.buildings = {row};
    const Factors f = factors(r, {3, 2, 1.5});
    CHECK_THAT(f.sky, WithinRel(light::parallel_factor({-0.6, 0.6, 0.4, 0.8, 2}), 0.01));
    const Factors bare = factors(plain_room(0), {3, 2, 1.5});
    CHECK_THAT(f.sky + f.ground + f.building, WithinRel(bare.sky + bare.ground, 1e-9));
    CHECK(f.ground < bare.ground);  // the building's foot hides land
}

TEST_CASE("a skyline turns sky into land", "[room]") {
    // Hills of tangent 0.2 stand 0.4 m over the level line, 2 m away, straight ahead; a little more
    // towards the jambs.
    const Factors f = factors(plain_room(0), {3, 2, 1.5}, [](Point2) { return 0.2; });
    CHECK_THAT(f.sky, WithinRel(light::parallel_factor({-0.6, 0.6, 0.4, 0.8, 2}), 0.02));
    CHECK_THAT(f.sky + f.ground,
               WithinRel(light::parallel_factor({-0.6, 0.6, -0.8, 0.8, 2}), 0.005));
}

TEST_CASE("what stands inside hides the opening, behind the point it does not", "[room]") {
    Room r = plain_room(0);
    // A cupboard 1 m before the window; its top edge at the height of the eye.
    r.objects = {{"cupboard", {{0.5, 0.8}, {5.5, 0.8}, {5.5, 1}, {0.5, 1}}, 1.5}};
    const Factors f = factors(r, {3, 2, 1.5});
    CHECK_THAT(f.ground, WithinAbs(0, 1e-12));
    CHECK_THAT(f.sky, WithinRel(light::parallel_factor({-0.6, 0.6, 0, 0.8, 2}), 0.005));
    CHECK_THAT(f.cloth, WithinRel(f.sky, 1e-9));
    r.objects = {{"press", {{0.5, 2.5}, {5.5, 2.5}, {5.5, 3}, {0.5, 3}}, 2.9}};
    CHECK_THAT(factors(r, {3, 2, 1.5}).ground, WithinRel(f.sky, 0.005));
}

TEST_CASE("bars leave their panes", "[room]") {
    Room r = plain_room(0);
    r.windows[0].bars = {1, 1, 0.1, 0};
    const Factors f = factors(r, {3, 4, 1.5});
    CHECK_THAT(f.sky + f.ground, WithinRel(light::parallel_factor({-0.6, 0.6, -0.8, 0.8, 4}) * 1.1 *
                                               1.5 / (1.2 * 1.6),
                                           0.01));
}

TEST_CASE("nothing is seen from the wall's plane or beyond", "[room]") {
    CHECK(Scene{plain_room(0.3)}.view_out(0, {3, 0, 1.5}, level_skyline, parts, parts).empty());
    CHECK(Scene{plain_room(0.3)}.view_out(0, {3, -1, 1.5}, level_skyline, parts, parts).empty());
}

}  // namespace
