// What stands outside shades a mark wherever a ray can reach it: judged by rays of the test's own,
// and by areas that can be worked out on paper.

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "keyhour/room/direction_region.hpp"
#include "region_points.hpp"
#include "support/dice.hpp"

using namespace keyhour;
using namespace keyhour::room;
using test::lies_in;
using test::toward;

namespace {

constexpr double degree = std::numbers::pi / 180;

/// A box about x and y, from the ground up.
struct Block {
    double x0, x1, y0, y1, top;

    [[nodiscard]] Building building() const {
        return {"block", {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}, top, {}};
    }
    /// Does the ray from a point towards the sun meet it?
    [[nodiscard]] bool stops(Point3 from, Point3 sun) const {
        double enters = 0, leaves = 1e9;
        const auto between = [&](double at, double way, double low, double high) {
            if (way == 0) {
                if (at <= low || at >= high) leaves = -1;
                return;
            }
            const double a = (low - at) / way, b = (high - at) / way;
            enters = std::max(enters, std::min(a, b));
            leaves = std::min(leaves, std::max(a, b));
        };
        between(from.x, sun.x, x0, x1);
        between(from.y, sun.y, y0, y1);
        between(from.z, sun.z, 0, top);
        return enters < leaves;
    }
};

/// Eight metres by six; its only window in the wall along y = 0, which looks to -y.
Room plain_room() {
    Room r;
    r.floor = {{0, 0}, {8, 0}, {8, 6}, {0, 6}};
    r.walls = {"window", "right", "back", "left"};
    r.height_m = 4;
    r.windows.emplace_back();
    r.windows[0].name = "window";
    r.windows[0].height_m = 3.5;
    r.windows[0].sill_m = 0.2;
    return r;
}

/// @param from_x, width_m  seen on the plan; from inside x runs to the left
void place_window(Room& r, double from_x, double width_m, double reveal_m) {
    r.windows[0].left_m = 8 - from_x - width_m;
    r.windows[0].width_m = width_m;
    r.windows[0].reveal_m = reveal_m;
}

/// The lit share of a sphere by rays, spread evenly over its disc.
struct RayCount {
    double open = 0;  ///< through the window
    double lit = 0;   ///< past the block, too
};

RayCount count_rays(const Room& r, const Block& block, Point3 sun) {
    const Mark& m = r.marks[0];
    const Window& w = r.windows[0];
    const double x0 = 8 - w.left_m - w.width_m, x1 = 8 - w.left_m;
    const double level = std::hypot(sun.x, sun.y);
    const Point3 across{sun.y / level, -sun.x / level, 0};
    const Point3 up{-sun.x * sun.z / level, -sun.y * sun.z / level, level};
    const auto is_open = [&](Point3 q, double plane) {
        const double t = (plane - q.y) / sun.y;
        const double x = q.x + t * sun.x, z = q.z + t * sun.z;
        return x > x0 && x < x1 && z > w.sill_m && z < w.sill_m + w.height_m;
    };
    constexpr int rays = 2000;
    RayCount count;
    for (int i = 0; i < rays; ++i) {
        // A sunflower's order: each ray stands for the same area.
        const double far = m.radius_m * std::sqrt((i + 0.5) / rays), turn = 2.399963 * i;
        const Point3 q = Point3{m.at.x, m.at.y, m.height_m} + far * std::cos(turn) * across +
                         far * std::sin(turn) * up;
        if (!is_open(q, 0) || !is_open(q, -w.reveal_m)) continue;
        count.open += 1.0 / rays;
        if (!block.stops(q, sun)) count.lit += 1.0 / rays;
    }
    return count;
}

/// Area of a disc of radius r to the left of a line, x to the right of its middle.
double left_of(double x, double r) {
    const double c = std::clamp(x / r, -1.0, 1.0);
    return r * r * (c * std::sqrt(1 - c * c) + std::asin(c) + std::numbers::pi / 2);
}

/// What upright posts, higher than any ray, leave of a sphere in the open, where their shadows do
/// not overlap: strips of its disc.
double left_by_posts(const Mark& mark, const std::vector<Ring>& posts, double azimuth) {
    const Point2 across{std::cos(azimuth), -std::sin(azimuth)};
    double lost = 0;
    for (const Ring& post : posts) {
        double low = 1e9, high = -1e9;
        for (const Point2 p : post) {
            low = std::min(low, dot(p - mark.at, across));
            high = std::max(high, dot(p - mark.at, across));
        }
        lost += left_of(high, mark.radius_m) - left_of(low, mark.radius_m);
    }
    return 1 - lost / (std::numbers::pi * mark.radius_m * mark.radius_m);
}

/// Holds the region against the strips that the posts leave or take, wherever coverage passes what
/// is wanted. @return how many changes there were
int judge_strips(const Room& r, const std::vector<Ring>& posts, double from_deg, double to_deg,
                 double wanted = 0.95) {
    RegionRequest q;
    q.coverage = wanted;
    q.bounds = {20 * degree, 24 * degree, [](Point3, double) { return true; }};
    const auto region = covered_region(Scene{r}, q);
    const auto is_wanted = [&](double azimuth) {
        return left_by_posts(r.marks[0], posts, azimuth) >= wanted;
    };
    int changes = 0;
    constexpr double step = 0.0005 * degree, aside = 0.006 * degree;
    for (double a = from_deg * degree; a < to_deg * degree; a += step) {
        if (is_wanted(a) == is_wanted(a + step)) continue;
        ++changes;
        for (const double altitude : {21.0, 22.3, 23.0}) {
            CAPTURE(a / degree, altitude);
            CHECK(lies_in(region, {a - aside, altitude * degree}) == is_wanted(a));
            CHECK(lies_in(region, {a + step + aside, altitude * degree}) == is_wanted(a + step));
        }
    }
    return changes;
}

}  // namespace

TEST_CASE("an opening is free to a direction, below the level too, where rays pass", "[room]") {
    int up = 0, down = 0;
    for (unsigned n = 0; n < 600; ++n) {
        test::Dice dice{43000 + n};
        Room r = plain_room();
        const double from_x = dice.between(0.1, 4), width_m = dice.between(0.3, 3.9);
        place_window(r, from_x, width_m, dice.between(0, 0.6));
        const Window& w = r.windows[0];
        const double away = w.reveal_m + dice.between(0.1, 6), left = dice.between(-6, 9);
        const Block block{left, left + dice.between(0.5, 8), -away - dice.between(0.5, 5), -away,
                          dice.between(0.3, 8)};
        r.buildings = {block.building()};
        const double azimuth = std::numbers::pi + dice.between(-70, 70) * degree;
        const Point3 way = toward(azimuth, dice.between(-60, 60) * degree);
        const double x0 = 8 - w.left_m - w.width_m, t = -w.reveal_m / way.y;
        constexpr int each_way = 100;
        int panes = 0, free = 0;
        for (int i = 0; i < each_way; ++i)
            for (int k = 0; k < each_way; ++k) {
                const Point3 q{x0 + w.width_m * (i + 0.5) / each_way, 0,
                               w.sill_m + w.height_m * (k + 0.5) / each_way};
                const Point3 out = q + t * way;
                if (out.x < x0 || out.x > x0 + w.width_m || out.z < w.sill_m ||
                    out.z > w.sill_m + w.height_m)
                    continue;
                ++panes;
                if (!block.stops(q, way)) ++free;
            }
        const OpenAreas areas = Scene{r}.open_areas(0, way);
        const double each = w.width_m * w.height_m / (each_way * each_way);
        const double rim = 0.03 * w.width_m * w.height_m;
        CAPTURE(n, way.z);
        CHECK(areas.panes_m2 == Approx(panes * each).margin(rim));
        CHECK(areas.free_m2 == Approx(free * each).margin(rim));
        if (way.z > 0) CHECK(Scene{r}.open_area(0, way) == areas.free_m2);
        if (areas.free_m2 < areas.panes_m2 - rim) ++(way.z > 0 ? up : down);
    }
    CHECK(up > 40);
    CHECK(down > 40);
}

TEST_CASE("a block far to the side shades a large mark close to a wide window", "[room]") {
    // A tangent of the sphere through the far jamb leaves at 10 degrees to the wall. The block lies
    // within 49 degrees of it: met by slanting rays alone, and by all that come in.
    for (const double side : {-1.0, 1.0}) {
        CAPTURE(side);
        Room r = plain_room();
        place_window(r, 3.5, 1, 0);
        r.marks = {{"mark", {4, 0.6}, 1.5, 0.5, {}}};
        const Point3 sun = toward(std::numbers::pi - side * std::atan(1.5), 15 * degree);
        const Scene open{r};
        CHECK(open.coverage(0, 0, sun) > 0.2);
        const Block block{4 - 30, 4 - 12, -12, -10, 20};
        r.buildings = {block.building()};
        if (side > 0)
            for (Point2& p : r.buildings[0].footprint)
                p.x = 8 - p.x;
        CHECK(Scene{r}.coverage(0, 0, sun) == Approx(0).margin(1e-9));
    }
}

TEST_CASE("one block outside takes of a mark what rays say, wherever mark and block stand",
          "[room]") {
    int shaded = 0, wholly = 0;
    for (unsigned n = 0; n < 400; ++n) {
        test::Dice dice{42000 + n};
        Room r = plain_room();
        const double from_x = dice.between(0.1, 4), width_m = dice.between(0.3, 3.9);
        place_window(r, from_x, width_m, dice.chance(0.3) ? 0 : dice.between(0.02, 0.5));
        const double radius_m = dice.between(0.1, 0.8);
        r.marks = {{"mark",
                    {dice.between(radius_m, 8 - radius_m),
                     radius_m + 0.02 + dice.between(0, 1) * dice.between(0, 2)},
                    dice.between(radius_m, 2.5),
                    radius_m,
                    {}}};
        // From a spot of the mark through one of the window, and somewhere on that ray the block.
        const Mark& m = r.marks[0];
        const double x = m.at.x + radius_m * dice.between(-1, 1);
        const double through = from_x + width_m * dice.between(0, 1);
        const double azimuth = std::atan2(through - x, -m.at.y);
        const Point3 sun = toward(azimuth, dice.between(3, 40) * degree);
        if (sun.y > -0.05) continue;
        const double away = dice.between(0.2, 12), half = dice.between(0.1, 3);
        const double met = through + sun.x / -sun.y * away;
        const Block block{met - half * dice.between(0, 1), met + half * dice.between(0.05, 1),
                          -r.windows[0].reveal_m - away - half, -r.windows[0].reveal_m - away, 30};
        r.buildings = {block.building()};
        const RayCount rays = count_rays(r, block, sun);
        if (rays.lit < rays.open - 0.05) ++shaded;
        if (rays.open > 0.05 && rays.lit == 0) ++wholly;
        CAPTURE(n, rays.open);
        // 2,000 rays: an edge may pass a ring of them.
        CHECK(Scene{r}.coverage(0, 0, sun) == Approx(rays.lit).margin(0.02));
    }
    CHECK(shaded > 150);
    CHECK(wholly > 50);
}

TEST_CASE("a post outside parts a region by a strip narrower than a cell of it", "[room]") {
    // At 0.0788 of the radius a post takes 5 % for 0.3 degree of its way, at 0.0786 for 0.14.
    int changes = 0;
    for (const double wide : {0.0786, 0.0788, 0.08})
        for (const double aside_m : {-0.37, -0.1, 0.03, 0.21, 0.4}) {
            CAPTURE(wide, aside_m);
            Room r = plain_room();
            place_window(r, 0.5, 7, 0);
            r.marks = {{"mark", {4, 2.5}, 1.5, 0.15, {}}};
            const double half = wide * r.marks[0].radius_m / 2, x = 4 + aside_m;
            const Ring post{
                {x - half, -2.501}, {x + half, -2.501}, {x + half, -2.5}, {x - half, -2.5}};
            r.buildings = {{"post", post, 8, {}}};
            changes += judge_strips(r, {post}, 170, 190);
        }
    CHECK(changes == 2 * 15);
}

TEST_CASE("between two walls outside a mark is lit over a strip narrower than a cell", "[room]") {
    int changes = 0;
    for (const double wide : {1.758, 1.76, 1.765})
        for (const double aside_m : {-0.37, -0.1, 0.03, 0.21, 0.4}) {
            CAPTURE(wide, aside_m);
            Room r = plain_room();
            place_window(r, 0.5, 7, 0);
            r.marks = {{"mark", {4, 2.5}, 1.5, 0.15, {}}};
            // Seen from the mark the gap is narrower by the cosine.
            const double gap_m = wide * 0.15 * std::hypot(1, aside_m / 5);
            std::vector<Ring> walls;
            for (const double side : {-1.0, 1.0}) {
                const double near = 4 + aside_m + side * gap_m / 2, far = near + side * 4;
                walls.push_back({{near, -2.5}, {far, -2.5}, {far, -2.501}, {near, -2.501}});
                r.buildings.push_back({"wall", walls.back(), 8, {}});
            }
            changes += judge_strips(r, walls, 170, 190);
        }
    CHECK(changes == 2 * 15);
}

TEST_CASE("a thin bar in the window parts a region by a strip narrower than a cell", "[room]") {
    int changes = 0;
    for (const double wide : {0.0786, 0.0788, 0.08})
        for (const double aside_m : {-0.37, -0.1, 0.03, 0.21, 0.4}) {
            CAPTURE(wide, aside_m);
            Room r = plain_room();
            r.marks = {{"mark", {4, 4}, 1.5, 0.15, {}}};
            const double x = 4 + aside_m;
            place_window(r, x - 3, 6, 0);
            // Seen from the mark it is narrower by the cosine.
            const double bar_m = wide * 0.15 * std::hypot(1, aside_m / 4);
            r.windows[0].bars = {1, 0, bar_m, 0};
            changes += judge_strips(r, {{{x - bar_m / 2, 0}, {x + bar_m / 2, 0}}}, 170, 190);
        }
    CHECK(changes == 2 * 15);
}

TEST_CASE("a row of thin bars parts a region into strips, none of them lost", "[room]") {
    int changes = 0;
    for (const int bars : {40, 80})
        for (const double share : {0.1, 0.9}) {
            CAPTURE(bars, share);
            Room r = plain_room();
            r.marks = {{"mark", {4, 4}, 1.5, 0.15, {}}};
            place_window(r, 1, 6, 0);
            const double bar_m = 0.3 * 6 / bars, pane_m = (6 - bars * bar_m) / (bars + 1);
            r.windows[0].bars = {bars, 0, bar_m, 0};
            std::vector<Ring> rings;
            for (int i = 0; i < bars; ++i) {
                const double x = 1 + pane_m + i * (pane_m + bar_m);
                rings.push_back({{x, 0}, {x + bar_m, 0}});
            }
            double least = 1, most = 0;
            for (double a = 170 * degree; a < 190 * degree; a += 0.01 * degree) {
                const double lit = left_by_posts(r.marks[0], rings, a);
                least = std::min(least, lit);
                most = std::max(most, lit);
            }
            changes += judge_strips(r, rings, 170, 190, least + share * (most - least));
        }
    CHECK(changes > 100);
}

TEST_CASE("a post darkens a mark no larger than a thimble over a strip, and no more", "[room]") {
    int changes = 0;
    for (const double aside_m : {-0.37, -0.1, 0.03, 0.21, 0.4}) {
        CAPTURE(aside_m);
        Room r = plain_room();
        place_window(r, 0.5, 7, 0);
        r.marks = {{"mark", {4, 2.5}, 1.5, 0.005, {}}};
        const double x = 4 + aside_m;
        const Ring post{{x, -2.501}, {x + 0.005, -2.501}, {x + 0.005, -2.5}, {x, -2.5}};
        r.buildings = {{"post", post, 8, {}}};
        changes += judge_strips(r, {post}, 170, 190);
    }
    CHECK(changes == 2 * 5);
}
