#include <catch2/catch.hpp>

#include "keyhour/room/scene.hpp"

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
