// The margin of a key by hand: the sun's limits, the opening, the camera and the coverage of a
// scene that is made of numbers.

#include "../../src/study/key_margin.hpp"

#include <catch2/catch.hpp>

using namespace keyhour;
using namespace keyhour::study;

namespace {

struct Scene {
    double front = 0.5, centre = 0.4, covered = 0.9;
    [[nodiscard]] double in_front(std::size_t, room::Point3) const { return front; }
    [[nodiscard]] double centre_margin(std::size_t, std::size_t, room::Point3) const {
        return centre;
    }
    [[nodiscard]] double coverage(std::size_t, std::size_t, room::Point3) const { return covered; }
};

struct Camera {
    double angle_deg = 0;
    bool in_frame = false;
    [[nodiscard]] Angle key_angle(room::Point3) const { return Angle::degrees(angle_deg); }
    [[nodiscard]] bool has_in_frame(room::Point3) const { return in_frame; }
};

constexpr KeyLimits limits{0.75, {30, 120}, {10, 60}};
constexpr double reach_m = 0.2;

double margin(const Scene& scene, double altitude_deg, double above_skyline_deg,
              const Camera* camera = nullptr) {
    return key_margin(scene, 0, 0, reach_m, limits,
                      SunOverPlan{altitude_deg, above_skyline_deg, {0, 0, 1}}, camera);
}

}  // namespace

TEST_CASE("outside the sun's limits a key's margin is a tenth of the degrees that are missing",
          "[key]") {
    CHECK(margin({}, 7, 7) == Approx(-0.3));
    CHECK(margin({}, 66, 66) == Approx(-0.6));
    CHECK(margin({}, 20, -4) == Approx(-0.4));
    CHECK(margin({}, 7, -4) == Approx(-0.4));
    // Within them and all else, by the coverage that is left over; an angle near its limit counts
    // first.
    CHECK(margin({}, 30, 20) == Approx(0.15));
    CHECK(margin({}, 10.5, 20) == Approx(0.05));
    CHECK(margin({0.5, 0.4, 0.75}, 30, 20) > 0);
    CHECK(margin({0.5, 0.4, 0.7}, 30, 20) == Approx(-0.05));
}

TEST_CASE("without sun, or behind the wall, no margin is within reach", "[key]") {
    CHECK(margin({}, -2, -2) == Approx(-1.2 + hopeless));
    CHECK(margin({-0.3, 0.4, 0.9}, 30, 20) == Approx(-0.3 + hopeless));
    CHECK(margin({-0.1, 0.4, 0.9}, 30, 20) > margin({-0.3, 0.4, 0.9}, 30, 20));
}

TEST_CASE("beyond the opening the margin says how far, a silhouette aslant being longer", "[key]") {
    // The mark's centre 1 m outside, its reach 0.2 m, twice that at 30 degrees to the wall.
    CHECK(margin({0.5, -1, 0}, 30, 20) == Approx(-1 + 0.4 - 0.75));
    CHECK(margin({1, -1, 0}, 30, 20) == Approx(-1 + 0.2 - 0.75));
    CHECK(margin({0.5, -0.3, 0.1}, 30, 20) == Approx(0.1 - 0.75));
}

TEST_CASE("a camera's key angle and frame are part of the margin", "[key]") {
    const Camera from_left{-90, false}, from_behind{150, false}, shown{90, true},
        in_front{25, false};
    CHECK(margin({}, 30, 20, &from_left) == Approx(0.15));
    CHECK(margin({}, 30, 20, &from_behind) == Approx(-3));
    CHECK(margin({}, 30, 20, &in_front) == Approx(-0.5));
    CHECK(margin({}, 30, 20, &shown) == -1);
}
