// What a reveal, a fin and a wall opposite leave of a window's light, against the textbook formulae
// of shading.
// Source: ASHRAE Handbook - Fundamentals, chapter Fenestration, section on exterior shading (2009
// and 2017: chapter 15). From memory. In its symbols
//   gamma  surface-solar azimuth: sun's azimuth less the azimuth that the wall faces
//   beta   solar altitude
//   Omega  profile angle, tan Omega = tan beta / cos gamma
//   theta  angle of incidence on the wall, cos theta = cos beta cos gamma
//   S_W = P_V |tan gamma|   width of the shadow of a vertical projection P_V
//   S_H = P_H tan Omega     height of the shadow of a horizontal projection P_H
//   A_SL = (W - (S_W - R_W)) (H - (S_H - R_H))   sunlit area; R: from projection to the glass's
//   edge

#include <catch2/catch.hpp>

#include "keyhour/room/scene.hpp"
#include "support/random_room.hpp"

using namespace keyhour;
using namespace keyhour::test;
using room::Scene;
using room::Surface;

namespace {

constexpr double degree = std::numbers::pi / 180;

struct SunAndWall {
    double faces_deg, gamma, beta;

    [[nodiscard]] double tan_omega() const { return std::tan(beta) / std::cos(gamma); }
    [[nodiscard]] double cos_theta() const { return std::cos(beta) * std::cos(gamma); }
    /// East, north, up.
    [[nodiscard]] LevelVector direction() const {
        const double azimuth = faces_deg * degree + gamma;
        return {std::cos(beta) * std::sin(azimuth), std::cos(beta) * std::cos(azimuth),
                std::sin(beta)};
    }
};

SunAndWall random_case(Dice& dice, double most_gamma_deg, double least_beta_deg,
                       double most_beta_deg) {
    return {dice.between(0, 360), dice.between(-most_gamma_deg, most_gamma_deg) * degree,
            dice.between(least_beta_deg, most_beta_deg) * degree};
}

/// A rectangular room, turned at random on its plan, whose wall 0 has one window.
Room room_with_window(Dice& dice, const SunAndWall& c, double width_m, double depth_m) {
    Room r;
    const double a = width_m / 2;
    const Point2 shift{dice.between(-3, 3), dice.between(-3, 3)};
    r.floor = placed({{-a, 0}, {a, 0}, {a, depth_m}, {-a, depth_m}}, dice.between(0, 6.28), shift);
    r.walls = {"window wall", "east", "back", "west"};
    if (dice.chance(0.5)) {  // the other turning sense, the same wall first
        r.floor = {r.floor[1], r.floor[0], r.floor[3], r.floor[2]};
        std::swap(r.walls[1], r.walls[3]);
    }
    r.height_m = 6;
    r.bearing.wall = 0;
    r.bearing.faces = Angle::degrees(c.faces_deg);
    Window w;
    w.name = "window";
    w.width_m = dice.between(0.3, 2.5);
    w.height_m = dice.between(0.3, 2.5);
    w.left_m = a - w.width_m / 2;
    w.sill_m = dice.between(0, 1.2);
    r.windows.push_back(w);
    return r;
}

Point3 sun_in_plan(const Room& r, const SunAndWall& c) {
    return room::PlanTurn{room::plan_bearing(r)}.to_plan(c.direction());
}

double patch_area(const std::vector<room::Patch>& patches, Surface surface) {
    for (const room::Patch& patch : patches)
        if (patch.surface == surface) return patch.area_m2;
    return 0;
}

/// A_SL for an opening whose jambs and head are the projections (R = 0).
double sunlit_area(const Window& w, const SunAndWall& c) {
    const double s_w = w.reveal_m * std::abs(std::tan(c.gamma));
    const double s_h = w.reveal_m * c.tan_omega();
    return std::max(0.0, w.width_m - s_w) * std::max(0.0, w.height_m - s_h);
}

/// From the window's wall: `right_m` to the right of the window's left jamb, seen from inside, and
/// `out_m` beyond the wall.
Point2 outside_point(const Room& r, double right_m, double out_m) {
    const room::WallFrame f = room::wall_frame(r.floor, 0);
    return f.left_corner + (r.windows[0].left_m + right_m) * f.u + out_m * f.n;
}

}  // namespace

// The margins here are rounding alone: 1e-9 for plain areas, and 1e-5 for patches, whose corners
// lie on whole steps of some 1e-8 m in the window before they are stretched over the floor.

TEST_CASE("a reveal leaves the sunlit area of the handbook's side fins and overhang",
          "[room][published]") {
    Dice dice{31};
    int open = 0, shut = 0;
    for (int n = 0; n < 1000; ++n) {
        const SunAndWall c = random_case(dice, 88, 1, 88);
        Room r = room_with_window(dice, c, 20, 8);
        r.windows[0].reveal_m = dice.between(0, 0.6);
        const double expected = sunlit_area(r.windows[0], c);
        ++(expected > 0 ? open : shut);
        CHECK(Scene{r}.open_area(0, sun_in_plan(r, c)) == Approx(expected).margin(1e-9));
    }
    CHECK(open > 500);
    CHECK(shut > 50);
}

TEST_CASE("on the floor the sunlit area is stretched by cos theta over sin beta",
          "[room][published]") {
    Dice dice{32};
    int seen = 0;
    for (int n = 0; n < 1000; ++n) {
        const SunAndWall c = random_case(dice, 80, 5, 80);
        Room r = room_with_window(dice, c, 800, 400);  // no other surface within reach
        r.windows[0].reveal_m = dice.between(0, 0.6);
        const double expected = sunlit_area(r.windows[0], c) * c.cos_theta() / std::sin(c.beta);
        const auto patches = Scene{r}.patches(0, sun_in_plan(r, c));
        if (expected < 2 * room::smallest_patch_m2) continue;
        ++seen;
        CHECK(patches.size() == 1);
        CHECK(patch_area(patches, {Surface::Kind::floor, 0}) == Approx(expected).epsilon(1e-5));
    }
    CHECK(seen > 500);
}

TEST_CASE("on the wall opposite the sunlit area keeps its size", "[room][published]") {
    Dice dice{33};
    int seen = 0;
    for (int n = 0; n < 1000; ++n) {
        const SunAndWall c = random_case(dice, 60, 5, 60);
        const double depth_m = 0.5;
        Room r = room_with_window(dice, c, 20, depth_m);
        r.windows[0].reveal_m = dice.between(0, 0.6);
        r.windows[0].sill_m = depth_m * c.tan_omega() + 0.05;  // no light reaches the floor
        const double expected = sunlit_area(r.windows[0], c);
        const auto patches = Scene{r}.patches(0, sun_in_plan(r, c));
        if (expected < 2 * room::smallest_patch_m2) continue;
        ++seen;
        CHECK(patches.size() == 1);
        CHECK(patch_area(patches, {Surface::Kind::wall, 2}) == Approx(expected).epsilon(1e-5));
    }
    CHECK(seen > 500);
}

TEST_CASE("a head no bigger than a pea is lit where the handbook's area is sunlit",
          "[room][published]") {
    Dice dice{34};
    int lit = 0, dark = 0;
    for (int n = 0; n < 1000; ++n) {
        const SunAndWall c = random_case(dice, 70, 5, 70);
        Room r = room_with_window(dice, c, 60, 30);
        Window& w = r.windows[0];
        w.reveal_m = dice.between(0, 0.4);
        w.sill_m = 1;
        const Point3 sun = sun_in_plan(r, c);
        // Where the ray to the mark crosses the wall's inner face: from the jamb away from the sun,
        // and up from the sill. The shadows of the sun's jamb and of the head are at the outer
        // face's projection, so they lie on the sun's side and above.
        const double from_jamb = dice.between(-0.1, 1.1) * w.width_m;
        const double up = dice.between(-0.1, 1.1) * w.height_m;
        const double s_w = w.reveal_m * std::abs(std::tan(c.gamma));
        const double s_h = w.reveal_m * c.tan_omega();
        const double radius = 0.004;
        const double inside =
            std::min({from_jamb, w.width_m - s_w - from_jamb, up, w.height_m - s_h - up});
        // The disc of a pea seen in the wall's plane is stretched by no more than 1 / cos theta.
        if (std::abs(inside) < radius / c.cos_theta()) continue;
        const bool sun_at_right = dot(Point2{sun.x, sun.y}, room::wall_frame(r.floor, 0).u) > 0;
        const double across = sun_at_right ? from_jamb : w.width_m - from_jamb;
        const Point3 p =
            in_the_beam(r, w, sun, across / w.width_m, up / w.height_m, dice.between(0.3, 0.9));
        r.marks.push_back({"pea", {p.x, p.y}, p.z, radius, {}});
        CHECK(Scene{r}.coverage(0, 0, sun) == Approx(inside > 0 ? 1 : 0).margin(1e-9));
        ++(inside > 0 ? lit : dark);
    }
    CHECK(lit > 200);
    CHECK(dark > 100);
}

TEST_CASE("a fin outside takes its shadow width less its distance", "[room][published]") {
    Dice dice{35};
    int half = 0;
    for (int n = 0; n < 1000; ++n) {
        const SunAndWall c = random_case(dice, 85, 1, 80);
        Room r = room_with_window(dice, c, 20, 8);
        const double width_m = r.windows[0].width_m;
        const double p_v = dice.between(0.1, 3), r_w = dice.between(0.01, 1);
        const bool at_right = dice.chance(0.5);
        const double near_m = at_right ? width_m + r_w : -r_w;
        const double far_m = near_m + (at_right ? 0.1 : -0.1);
        r.buildings.push_back({"fin",
                               {outside_point(r, near_m, 0), outside_point(r, near_m, p_v),
                                outside_point(r, far_m, p_v), outside_point(r, far_m, 0)},
                               1000});
        const Point3 sun = sun_in_plan(r, c);
        const bool sun_at_right = dot(Point2{sun.x, sun.y}, room::wall_frame(r.floor, 0).u) > 0;
        const double s_w = sun_at_right == at_right ? p_v * std::abs(std::tan(c.gamma)) : 0;
        const double lit_m = std::clamp(width_m - (s_w - r_w), 0.0, width_m);
        if (lit_m > 0 && lit_m < width_m) ++half;
        CHECK(Scene{r}.open_area(0, sun) == Approx(lit_m * r.windows[0].height_m).margin(1e-9));
    }
    CHECK(half > 100);
}

TEST_CASE("a long wall opposite shades up to its height less its distance times tan Omega",
          "[room][published]") {
    Dice dice{36};
    int half = 0;
    for (int n = 0; n < 1000; ++n) {
        const SunAndWall c = random_case(dice, 80, 1, 70);
        Room r = room_with_window(dice, c, 20, 8);
        const Window& w = r.windows[0];
        r.floor_above_ground_m = dice.between(0, 4);
        const double away_m = dice.between(2, 30);
        const double top_m = w.sill_m + w.height_m * dice.between(-0.2, 1.2) +
                             away_m * c.tan_omega();  // over the room's floor
        const double long_m = 20 + 200 * away_m;      // tan 80 degrees = 5.7
        r.buildings.push_back(
            {"wall opposite",
             {outside_point(r, -long_m, away_m), outside_point(r, long_m, away_m),
              outside_point(r, long_m, away_m + 0.3), outside_point(r, -long_m, away_m + 0.3)},
             top_m + r.floor_above_ground_m});
        const double shaded_up_to = top_m - away_m * c.tan_omega();
        const double lit_m = std::clamp(w.sill_m + w.height_m - shaded_up_to, 0.0, w.height_m);
        if (lit_m > 0 && lit_m < w.height_m) ++half;
        CHECK(Scene{r}.open_area(0, sun_in_plan(r, c)) == Approx(lit_m * w.width_m).margin(1e-9));
    }
    CHECK(half > 300);
}
