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

TEST_CASE("what stands close before the eye hides the window as much as what stands far off",
          "[room]") {
    // A post 10 cm before the eye, then beyond the window; both take the same strip of the view.
    Room r = plain_room(0);
    const double whole = factors(r, {3, 2, 1.5}).cloth;
    const auto post = [](double y, double half) {
        return Ring{{3 - half, y}, {3 + half, y}, {3 + half, y - 1e-6}, {3 - half, y - 1e-6}};
    };
    const double left = light::parallel_factor({-0.6, -0.2, -0.8, 0.8, 2}) +
                        light::parallel_factor({0.2, 0.6, -0.8, 0.8, 2});
    r.objects = {{"post", post(1.9, 0.01), 2.9}};
    const Factors near = factors(r, {3, 2, 1.5});
    CHECK_THAT(near.cloth, WithinRel(left, 0.01));
    CHECK_THAT(near.sky + near.ground, WithinRel(near.cloth, 1e-9));
    r.objects.clear();
    r.buildings = {{"tower", post(-8, 1), 90, {}}};
    const Factors far = factors(r, {3, 2, 1.5});
    CHECK_THAT(far.sky, WithinRel(left / 2, 0.01));
    CHECK_THAT(far.cloth, WithinRel(whole, 1e-9));
    CHECK_THAT(far.building + far.sky + far.ground, WithinRel(whole, 1e-9));
}

TEST_CASE("the parts of a view point from the eye through their middles, and into their sky",
          "[room]") {
    const Room r = plain_room(0.2);
    const Point3 eye{4.1, 2.5, 1.2};
    constexpr int wide = 4, tall = 5;
    // A hill that ends within the third row from below.
    const double hill = 0.1;
    const auto view = Scene{r}.view_out(
        0, eye, [&](Point2) { return hill; }, wide, tall);
    std::size_t found = 0;
    // From the left, which is where x is larger; of each column from below.
    for (int i = 0; i < wide; ++i)
        for (int k = 0; k < tall; ++k) {
            REQUIRE(found < view.size());
            const ViewPart& v = view[found++];
            const double du = 1.2 / wide, dz = 1.6 / tall;
            const Point3 middle{3.6 - (i + 0.5) * du, 0, 0.7 + (k + 0.5) * dz};
            const Point3 way = middle - eye;
            const double far = std::sqrt(dot(way, way));
            CAPTURE(i, k);
            CHECK(v.toward.x == Approx(way.x / far));
            CHECK(v.toward.y == Approx(way.y / far));
            CHECK(v.toward.z == Approx(way.z / far));
            CHECK(v.incidence_cosine == Approx(eye.y / far));
            CHECK(v.solid_angle_sr == Approx(du * dz * eye.y / far / (far * far)));
            // The sky begins where the line over the hill passes; level across a part.
            const double from = eye.z + hill * std::hypot(way.x, way.y);
            const double low = std::clamp(from, middle.z - dz / 2, middle.z + dz / 2);
            const Point3 to_sky = Point3{middle.x, 0, (low + middle.z + dz / 2) / 2} - eye;
            CHECK(v.to_sky.z == Approx(to_sky.z / std::sqrt(dot(to_sky, to_sky))));
            CHECK(v.to_sky.x == Approx(to_sky.x / std::sqrt(dot(to_sky, to_sky))));
            CHECK(v.cloth == Approx(1));
        }
    CHECK(found == view.size());
}

TEST_CASE("a wing's wall hides a window from a point behind it, and its outside the view",
          "[room]") {
    // An L about the corner (3, 3); the window looks to -y from the wall's left end.
    Room r = plain_room(0);
    r.floor = {{0, 0}, {6, 0}, {6, 3}, {3, 3}, {3, 6}, {0, 6}};
    r.walls = {"window", "right", "notch", "cheek", "back", "left"};
    r.windows[0].left_m = 0.2;  // x = 4.6..5.8
    // From (2.5, 4.5) the line past the corner meets the wall y = 0 at x = 4: all is hidden. From
    // (2, 4.5) it meets it at x = 5: what lies to the right of that is seen.
    CHECK(factors(r, {2.5, 4.5, 1.5}).cloth == 0);
    const Factors f = factors(r, {2, 4.5, 1.5});
    CHECK_THAT(f.cloth, WithinRel(light::parallel_factor({2.6, 3, -0.8, 0.8, 4.5}), 0.01));
    // A window of the notch, x = 4..5.2, looks to +y past the other wing, which is high and deep.
    r.windows[0].wall = 2;
    r.windows[0].left_m = 1;
    r.height_m = r.floor_above_ground_m = 60;
    CHECK(factors(r, {4.05, 2, 1.5}).building == 0);
    // From (5.4, 2) the line to the wing's far corner (3, 6) passes the window at x = 4.8.
    const Factors cut = factors(r, {5.4, 2, 1.5});
    CHECK_THAT(cut.building, WithinRel(light::parallel_factor({-1.4, -0.6, -0.8, 0.8, 1}), 0.02));
    CHECK_THAT(cut.building + cut.sky + cut.ground, WithinRel(cut.cloth, 1e-9));
}

}  // namespace
