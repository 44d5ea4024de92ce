#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "keyhour/room/direction_region.hpp"
#include "keyhour/room/scene.hpp"
#include "region_points.hpp"

using namespace keyhour;
using namespace keyhour::room;

TEST_CASE("what stands close behind a mark does not shade it, what stands before it does",
          "[room]") {
    const auto coverage = [](double face_m) {
        Room r;
        r.floor = {{0, 0}, {6, 0}, {6, 6}, {0, 6}};
        r.walls = {"window", "right", "back", "left"};
        r.height_m = 3;
        Window w;
        w.name = "window";
        w.left_m = 1;
        w.width_m = 4;
        w.sill_m = 0.2;
        w.height_m = 2.6;
        r.windows = {w};
        r.marks = {{"mark", {3, 2.5}, 1.2, 0.05, {}}};
        // A screen across the room, its near face so far behind the mark's centre.
        const double near = 2.5 + face_m;
        r.objects = {{"screen", {{2, near}, {4, near}, {4, near + 0.02}, {2, near + 0.02}}, 2.5}};
        const Scene scene{r};
        return scene.coverage(0, 0, {0, -0.96, 0.28});
    };
    for (const double behind : {0.055, 0.08, 0.12, 0.16, 0.195, 0.3}) {
        CAPTURE(behind);
        CHECK(coverage(behind) == Approx(1));
    }
    for (const double before : {-0.08, -0.12, -0.195, -0.3}) {
        CAPTURE(before);
        CHECK(coverage(before) == Approx(0).margin(1e-9));
    }
}

TEST_CASE("a post beside a mark shades no part of it from behind the plane that the light meets",
          "[room]") {
    const auto coverage = [](std::optional<std::array<double, 3>> box_m, Point2 corner,
                             Point3 sun) {
        Room r;
        r.floor = {{0, 0}, {6, 0}, {6, 6}, {0, 6}};
        r.walls = {"window", "right", "back", "left"};
        r.height_m = 3;
        Window w;
        w.name = "window";
        w.width_m = 6;
        w.height_m = 3;
        r.windows = {w};
        r.marks = {{"mark", {3, 2.5}, 1.2, 0.3, box_m}};
        const Point2 a = Point2{3, 2.5} + corner;
        r.objects = {
            {"post", {a, a + Point2{0.03, 0}, a + Point2{0.03, 0.03}, a + Point2{0, 0.03}}, 2.5}};
        return Scene{r}.coverage(0, 0, sun);
    };
    // Beside the sphere, behind its middle: its image along the ray lies on the disc.
    const Point3 level{0, -0.9992, 0.04};
    CHECK(coverage({}, {0.236, 0.19}, level) == Approx(1).margin(1e-9));
    CHECK(coverage({}, {0.236, -0.4}, level) < 0.99);
    // Beside the box, behind its front: its image along the ray lies on the front.
    const std::array<double, 3> box{0.4, 0.4, 0.4};
    const Point3 aslant{-0.6, -0.799, 0.04};
    CHECK(coverage(box, {0.22, -0.12}, aslant) == Approx(1).margin(1e-9));
    CHECK(coverage(box, {-0.15, -0.4}, aslant) < 0.99);
}

namespace {

/// Beyond a wall that is all window, to -y, with a post or a table inside.
Room with_object(const Mark& mark, const Object& object) {
    Room r;
    r.floor = {{-20, 0}, {26, 0}, {26, 6}, {-20, 6}};
    r.walls = {"window", "right", "back", "left"};
    r.height_m = 8;
    r.windows.emplace_back();
    r.windows[0].name = "window";
    r.windows[0].width_m = 46;
    r.windows[0].height_m = 8;
    r.marks = {mark};
    r.objects = {object};
    return r;
}

Object post_at(Point2 a, Point2 size, double height_m) {
    return {"post", {a, a + Point2{size.x, 0}, a + size, a + Point2{0, size.y}}, height_m};
}

}  // namespace

TEST_CASE("a table's top just below a mark shades none of it, however far it runs on behind",
          "[room]") {
    // Under a steep sun the table's far part has its image along the ray on the mark's disc.
    const Point3 steep{0, -0.5, 0.866};
    const Mark hand{"hand", {3, 2}, 1, 0.15, {}};
    for (const double below : {0.151, 0.16, 0.18, 0.25}) {
        CAPTURE(below);
        const Object table = post_at({2, 1.2}, {2, 2}, 1 - below);
        CHECK(Scene{with_object(hand, table)}.coverage(0, 0, steep) == Approx(1).margin(1e-9));
    }
    // One that rises before the mark takes what lies below the ray over its edge: half, where that
    // ray meets the centre.
    const double edge_m = 0.4, half = edge_m * 0.866 / 0.5;
    const Object before = post_at({2, 2 - edge_m - 0.5}, {2, 0.5}, 1 + half);
    CHECK(Scene{with_object(hand, before)}.coverage(0, 0, steep) == Approx(0.5).margin(1e-6));
}

TEST_CASE("a sphere is shaded from before its middle, and from a hair behind it no more",
          "[room]") {
    const Point3 level{0, -0.9992, 0.04};
    const Mark head{"head", {3, 3}, 1.2, 0.3, {}};
    for (const double off_m : {0.01, 0.03, 0.06, 0.1, 0.15, 0.19, 0.25}) {
        CAPTURE(off_m);
        // Just clear of the sphere, as far behind its middle as before it.
        const double beside = std::sqrt(0.09 - off_m * off_m) + 1e-5;
        const auto coverage = [&](double near) {
            const Object post = post_at({3 + beside, 3 + near}, {0.4, 0.03}, 2.5);
            return Scene{with_object(head, post)}.coverage(0, 0, level);
        };
        // The part of a disc beyond a chord.
        const double c = beside / 0.3;
        const double beyond =
            (std::numbers::pi / 2 - std::asin(c) - c * std::sqrt(1 - c * c)) / std::numbers::pi;
        CHECK(coverage(off_m) == Approx(1).margin(1e-10));
        CHECK(1 - coverage(-off_m - 0.03) == Approx(beyond).epsilon(1e-3).margin(1e-10));
    }
}

TEST_CASE("a post before the far end of a box's front shades it from behind the box's middle",
          "[room]") {
    // The sun grazes the front, which the post stands before: seen along the ray the post lies
    // behind the middle of the box. A front 0.8 m wide, 0.4 deep: across the ray the sun sees
    // 0.8 x sin of the front and 0.4 x cos of the side.
    const double azimuth = 65 * std::numbers::pi / 180;  // off the window's normal, to -x
    const Mark box{"box", {3, 3}, 1.2, 0.15, std::array<double, 3>{0.8, 0.4, 0.5}};
    const double altitude = 10 * std::numbers::pi / 180;
    const Point3 sun{-std::sin(azimuth) * std::cos(altitude),
                     -std::cos(azimuth) * std::cos(altitude), std::sin(altitude)};
    // From 3.28 to 3.32 along the front, 0.02 before it, higher than any ray to the box.
    const Object post = post_at({3.28, 2.77}, {0.04, 0.01}, 3);
    const Point2 level{sun.x, sun.y};
    for (const Point2 p : post.footprint)
        CHECK(dot(p - box.at, level) < 0);
    const auto across = [&](Point2 p) {
        return dot(p - box.at, {std::cos(azimuth), -std::sin(azimuth)});
    };
    // Higher than every ray to the box, the post takes an upright strip of the silhouette, front
    // and top.
    const double left = across({2.6, 3.2}), right = across({3.4, 2.8});
    double from = 1e9, to = -1e9;
    for (const Point2 p : post.footprint) {
        from = std::min(from, across(p));
        to = std::max(to, across(p));
    }
    CHECK(from > across({2.6, 2.8}));
    CHECK(to < right);
    // In the plane square to the ray the box's sides are 0.5 m tall times the cosine of the
    // altitude; above them stands as much of the top as the ray crosses times its sine. The rays of
    // the strip enter by the front and leave by the right.
    const double tall = 0.5 * std::cos(altitude);
    const double whole = (right - left) * tall + 0.8 * 0.4 * std::sin(altitude);
    const double enters = 3 + ((from + to) / 2 - 0.2 * std::sin(azimuth)) / std::cos(azimuth);
    const double crossed = (3.4 - enters) / std::sin(azimuth);
    const double lost = (to - from) * (tall + crossed * std::sin(altitude));
    const Room r = with_object(box, post);
    const Scene scene{r};
    CHECK(scene.coverage(0, 0, sun) == Approx(1 - lost / whole).margin(1e-6));
    // So does the region of a wanted share between the two: nowhere near the sun is enough lit.
    RegionRequest q;
    q.coverage = 1 - lost / whole / 2;
    q.bounds = {altitude - 0.05, altitude + 0.05, [](Point3, double) { return true; }};
    const double seen = std::numbers::pi + azimuth;  // clockwise from +y
    const auto is_in = [&](const Room& room) {
        return test::lies_in(covered_region(Scene{room}, q), {seen, altitude});
    };
    CHECK_FALSE(is_in(r));
    CHECK(is_in(with_object(box, post_at({5.5, 5.5}, {0.1, 0.1}, 3))));
}
