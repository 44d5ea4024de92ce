#include "keyhour/room/scene.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "keyhour/room/camera_axes.hpp"

using namespace keyhour;
using namespace keyhour::room;

namespace {

/// Window in the wall y = 0 (outward is -y): x 1..2.4, sill 0.9, head 2.4.
Room plain_room(double reveal) {
    Room r;
    r.floor = {{0, 0}, {6, 0}, {6, 5}, {0, 5}};
    r.walls = {"front", "right", "back", "left"};
    r.height_m = 3;
    r.bearing.faces = Angle::degrees(180);
    Window w;
    w.name = "window";
    w.left_m = 6 - 2.4;  // the left-hand corner, seen from inside, is (6, 0)
    w.width_m = 1.4;
    w.sill_m = 0.9;
    w.height_m = 1.5;
    w.reveal_m = reveal;
    r.windows = {w};
    r.marks = {{"mark", {1.7, 2}, 1.2, 0.15, {}}};
    return r;
}

Point3 sun_at(double from_right_deg, double up_deg) {
    // Straight before the window is -y; positive turns toward +x.
    const Angle a = Angle::degrees(from_right_deg), h = Angle::degrees(up_deg);
    return {sin(a) * cos(h), -cos(a) * cos(h), sin(h)};
}

}  // namespace

TEST_CASE("a sun straight before a thin wall throws the opening onto the floor", "[room]") {
    const Scene scene{plain_room(0)};
    const auto patches = scene.patches(0, sun_at(0, 45));
    REQUIRE(patches.size() == 1);
    CHECK(words(patches[0].surface, scene.room()) == "floor");
    CHECK(patches[0].area_m2 == Approx(1.4 * 1.5).epsilon(1e-6));
    // At 45 degrees a height becomes an equal depth: y 0.9..2.4.
    CHECK(patches[0].centroid.x == Approx(1.7).margin(1e-6));
    CHECK(patches[0].centroid.y == Approx(1.65).margin(1e-6));
    REQUIRE(patches[0].outlines.size() == 1);
    Ring flat;
    for (const Point3 p : patches[0].outlines[0])
        flat.push_back({p.x, p.y});
    CHECK(signed_area(flat) == Approx(2.1).epsilon(1e-6));  // counter-clockwise from above
    // Soft edge: throw = 1.65 sqrt(2) from the wall's face, times the sun's diameter in radians.
    CHECK(patches[0].edge_width_m ==
          Approx(1.65 * std::sqrt(2) * 2 * std::tan(0.5331 / 2 * std::numbers::pi / 180)));
}

TEST_CASE("a low sun reaches the back wall", "[room]") {
    const Scene scene{plain_room(0)};
    const auto patches = scene.patches(0, sun_at(0, 10));
    REQUIRE(patches.size() == 1);
    CHECK(words(patches[0].surface, scene.room()) == "wall back");
    const double drop = 5 * std::tan(10 * std::numbers::pi / 180);
    CHECK(patches[0].centroid.z == Approx(1.65 - drop));
    CHECK(patches[0].area_m2 == Approx(2.1).epsilon(1e-6));
}

TEST_CASE("the reveal's outer edge cuts side and head", "[room]") {
    const Scene scene{plain_room(0.3)};
    const Point3 sun = sun_at(30, 20);
    // Outer rectangle meets inner: less width by d tan a, less height by d tan h / cos a.
    const double w = 1.4 - 0.3 * std::tan(30 * std::numbers::pi / 180);
    const double h =
        1.5 - 0.3 * std::tan(20 * std::numbers::pi / 180) / std::cos(30 * std::numbers::pi / 180);
    CHECK(scene.open_area(0, sun) == Approx(w * h));
    CHECK(scene.open_area(0, sun_at(79, 20)) == 0);  // 0.3 tan 79 > 1.4
    CHECK(scene.open_area(0, sun_at(100, 20)) == 0);
}

TEST_CASE("a mark is covered wholly, by half, and not at all", "[room]") {
    const Scene scene{plain_room(0)};
    // Centre 2 m in, 1.2 m high: at altitude h its ray passes the wall at 1.2 + 2 tan h.
    CHECK(scene.coverage(0, 0, sun_at(0, 10)) == Approx(1));
    const double to_head = std::atan(0.6) * 180 / std::numbers::pi;  // centre on the head
    CHECK(scene.coverage(0, 0, sun_at(0, to_head)) == Approx(0.5));
    CHECK(scene.coverage(0, 0, sun_at(0, to_head + 10)) == 0);
    CHECK(scene.centre_margin(0, 0, sun_at(0, to_head)) == Approx(0).margin(1e-12));
    const auto losses = scene.losses(0, 0, sun_at(0, to_head));
    REQUIRE(losses.size() == 1);
    CHECK(losses[0].edge.kind == Edge::head);
    CHECK(losses[0].fraction == Approx(0.5));
}

TEST_CASE("bars take their share of a mark's light", "[room]") {
    Room r = plain_room(0.1);
    r.windows[0].bars = {1, 0, 0.04, 0};
    const Scene scene{r};
    // The bar stands across the middle of the disc: about 2 r b of pi r^2.
    const double lost = 1 - scene.coverage(0, 0, sun_at(0, 10));
    CHECK(lost == Approx(2 * 0.15 * 0.04 / (std::numbers::pi * 0.15 * 0.15)).epsilon(0.01));
    CHECK(scene.open_area(0, sun_at(0, 10)) ==
          Approx((1.4 - 0.04) * (1.5 - 0.1 * std::tan(10 * std::numbers::pi / 180))));
}

TEST_CASE("a building before the window blocks, behind it does not", "[room]") {
    Room r = plain_room(0.1);
    r.buildings = {{"barn", {{-5, -12}, {12, -12}, {12, -8}, {-5, -8}}, 6}};
    CHECK(Scene{r}.coverage(0, 0, sun_at(0, 10)) == 0);
    CHECK(Scene{r}.patches(0, sun_at(0, 10)).empty());
    CHECK(Scene{r}.open_area(0, sun_at(0, 10)) == 0);
    r.buildings[0].footprint = {{-5, 12}, {12, 12}, {12, 8}, {-5, 8}};
    CHECK(Scene{r}.coverage(0, 0, sun_at(0, 10)) == Approx(1));
}

TEST_CASE("the wing of an L shades a window in its notch", "[room]") {
    Room r = plain_room(0.1);
    // The wing comes down on the right, beyond x = 3.
    r.floor = {{0, 0}, {3, 0}, {3, -4}, {6, -4}, {6, 5}, {0, 5}};
    r.walls = {"front", "cheek", "end", "right", "back", "left"};
    r.windows[0].left_m = 3 - 2.4;
    const Scene scene{r};
    CHECK(scene.coverage(0, 0, sun_at(-10, 10)) == Approx(1));
    // From 15 degrees on the right the ray leaves at x = 2.24 and meets the wing 2.9 m out.
    CHECK(Scene{plain_room(0.1)}.coverage(0, 0, sun_at(15, 10)) > 0.95);
    CHECK(scene.coverage(0, 0, sun_at(15, 10)) == 0);
    const auto losses = scene.losses(0, 0, sun_at(15, 10));
    CHECK(std::any_of(losses.begin(), losses.end(), [](const Loss& l) {
        return l.edge == LimitingEdge{Edge::own_walls, 0};
    }));
    CHECK(scene.open_area(0, sun_at(50, 10)) < 0.6 * scene.open_area(0, sun_at(-50, 10)));
}

TEST_CASE("a window faces the marks before it, not those behind it or round a corner", "[room]") {
    Room r = plain_room(0.1);
    r.floor = {{0, 0}, {3, 0}, {3, -4}, {6, -4}, {6, 5}, {0, 5}};
    r.walls = {"front", "cheek", "end", "right", "back", "left"};
    r.windows[0].left_m = 3 - 2.4;
    r.marks.push_back({"behind", {4.5, -2}, 1.2, 0.15, {}});  // in the wing, beyond the wall
    r.marks.push_back({"corner", {0.5, 0.3}, 1.2, 0.15, {}});
    r.marks.push_back({"opposite", {5, 3}, 1.2, 0.15, {}});
    Window cheek = r.windows[0];
    cheek.wall = 3;  // in the wall x = 6, near the wing's end
    cheek.left_m = 7;
    cheek.width_m = 1;
    r.windows.push_back(cheek);
    const Scene scene{r};
    CHECK(scene.faces(0, 0));
    CHECK_FALSE(scene.faces(0, 1));
    CHECK(scene.faces(0, 3));
    CHECK_FALSE(scene.faces(1, 2));  // round the corner of the wing
    CHECK(scene.faces(1, 0));
    CHECK(scene.faces(1, 1));
    CHECK(scene.middle(0).z == Approx(1.65));
    CHECK(scene.middle(0).y == Approx(0).margin(1e-12));
}

TEST_CASE("a table shades the floor and takes the light itself", "[room]") {
    Room r = plain_room(0);
    r.objects = {{"table", {{1.2, 1.2}, {2.2, 1.2}, {2.2, 2}, {1.2, 2}}, 0.5}};
    const Scene scene{r};
    const auto patches = scene.patches(0, sun_at(0, 45));
    REQUIRE(patches.size() == 2);
    double projected = 0;
    for (const Patch& p : patches)
        if (p.surface.kind == Surface::Kind::floor) projected += p.area_m2;
    // Floor light lost: the table's shadow, 1 m wide, from y = 1.2 to 2.5, within 0.9..2.4.
    CHECK(projected == Approx(2.1 - 1.0 * 1.2).epsilon(1e-6));
    // The table: its top 1 x 0.8 (all within the beam at z = 0.5: y 0.4..1.9 -> 0.7 deep) and its
    // front 0.5 high.
    CHECK(words(patches[1].surface, r) == "object table");
    CHECK(patches[1].area_m2 == Approx(1.0 * 0.7 + 1.0 * 0.5 - 1.0 * 0.0).epsilon(1e-6));
}

TEST_CASE("a direction is in frame within half the angles of view, across and upright", "[room]") {
    Room r = plain_room(0);
    Camera c;
    c.at = {4.7, 2};  // looks along -x, level
    c.height_m = 1.2;
    c.view = Angle::degrees(50);
    c.view_vertical = Angle::degrees(20);
    const auto sees = [&](double aside_deg, double up_deg) {
        const double a = aside_deg * std::numbers::pi / 180, u = up_deg * std::numbers::pi / 180;
        return in_frame(r, c, Point3{-1, std::tan(a), std::tan(u)});
    };
    for (const double side : {-1.0, 1.0}) {
        CHECK(sees(side * 24.9, 0));
        CHECK_FALSE(sees(side * 25.1, 0));
        CHECK(sees(0, side * 9.9));
        CHECK_FALSE(sees(0, side * 10.1));
    }
    CHECK_FALSE(in_frame(r, c, Point3{1, 0, 0}));
    // Straight down there is no level side: the page's right serves.
    c.at = {1.7, 2};
    c.height_m = 2.5;
    const CameraAxes down = axes(r, c);
    CHECK(down.forward.z == Approx(-1));
    CHECK(down.right == Point3{1, 0, 0});
    CHECK(down.up.y == Approx(1));
    // Aslant: right is level and to the right, up is square to both.
    c.at = {1.7, 0.5};
    const CameraAxes aslant = axes(r, c);
    CHECK(aslant.right.x == Approx(1));
    CHECK(aslant.right.z == 0);
    CHECK(aslant.up.z == Approx(1.5 / std::hypot(1.5, 1.3)));
    CHECK(aslant.forward.z == Approx(-1.3 / std::hypot(1.5, 1.3)));
}

TEST_CASE("the key angle is counted from the lens axis", "[room]") {
    Room r = plain_room(0);
    Camera c;
    c.at = {4.7, 2};
    c.height_m = 1.2;
    r.cameras = {c};
    CHECK(std::abs(key_angle(r, c, {1, 0, 0.3}).in_degrees()) == Approx(0));
    CHECK(std::abs(key_angle(r, c, {-1, 0, 0.3}).in_degrees()) == Approx(180));
    // Light from the window: at the mark, looking at the camera along +x, -y is to the right.
    CHECK(key_angle(r, c, {0, -1, 0.3}).in_degrees() == Approx(90));
    CHECK(in_frame(r, c, {-1, 0.1, 0.05}));
    CHECK_FALSE(in_frame(r, c, {1, 0, 0}));
    CHECK_FALSE(in_frame(r, c, {-1, 0.1, 0.3}));
}
