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
