// A window before a camera, by the plan's angles.

#include "../../src/study/window_view.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "keyhour/study/clean_key.hpp"
#include "workshop.hpp"

using namespace keyhour;
using namespace keyhour::study;

TEST_CASE("a window stands to the side of the lens axis that the plan has it on, in frame or not",
          "[key]") {
    // The mark (3.6, 2.5), the window's middle straight before it at y = 0 (x 3.6).
    const room::Camera behind{"behind", {3.6, 4.4},         1.55,
                              0,        Angle::degrees(60), Angle::degrees(40)};
    const room::Camera before{"before", {3.6, 0.5},         1.55,
                              0,        Angle::degrees(60), Angle::degrees(40)};
    const room::Camera left{"left", {6.0, 2.5}, 1.55, 0, Angle::degrees(60), Angle::degrees(40)};
    const Lit lit{Workshop{.cameras = {behind, before, left}}.location()};
    const auto view = [&](std::size_t camera) { return window_view(lit.study, 0, 0, camera); };
    CHECK(std::abs(view(0).key_angle_deg) == Approx(180));  // behind the subject
    CHECK(view(0).in_frame);
    CHECK(view(1).key_angle_deg == Approx(0).margin(1e-9));
    CHECK_FALSE(view(1).in_frame);
    CHECK(std::abs(view(2).key_angle_deg) == Approx(90));
    CHECK_FALSE(view(2).in_frame);
}

TEST_CASE("an angle misses the usual ones by degrees, on either side", "[key]") {
    const double least = KeySettings{}.key_angle_deg[0], most = KeySettings{}.key_angle_deg[1];
    CHECK(off_usual_angle((least + most) / 2) == 0);
    CHECK(off_usual_angle(-(least + most) / 2) == 0);
    CHECK(off_usual_angle(least - 4) == Approx(4));
    CHECK(off_usual_angle(-most - 7) == Approx(7));
}
