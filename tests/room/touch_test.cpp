// Bounds for searches, which may not promise what is not so: against coverages and patches of
// random rooms, and against planes through an edge and the sun.

#include <bit>
#include <catch2/catch.hpp>

#include "paper_room.hpp"
#include "random_case.hpp"
#include "region_points.hpp"

using namespace keyhour;
using namespace keyhour::test;
using room::Scene;
using room::Touch;

namespace {

/// The mark stands 3 m before the window's middle.
Room marked_room(double reveal_m, std::optional<std::array<double, 3>> box_m = {}) {
    Room r = paper_room(reveal_m);
    r.marks = {{"mark", {4, 3}, 1.2, 0.2, box_m}};
    return r;
}

Point3 sun_at(double aside_deg, double up_deg) {
    return toward(std::numbers::pi + aside_deg * degree, up_deg * degree);
}

/// In each of the opening's edges, inner and outer, how far inward of it the mark's middle and the
/// mark's own nearest and farthest points pass, in the plane of the wall.
struct Passing {
    double middle = 1e9, nearest = 1e9, farthest = 1e9;
    bool is_shut = false;
};
Passing passing(const Room& r, Point3 sun) {
    const Mark& m = r.marks[0];
    const Window& w = r.windows[0];
    const double x0 = 8 - w.left_m - w.width_m, x1 = 8 - w.left_m;
    std::vector<Point3> corners;
    double reach_x = 0, reach_z = 0;  // of a sphere: planes that touch it
    if (m.box_m) {
        for (const double i : {-0.5, 0.5})
            for (const double j : {-0.5, 0.5})
                for (const double k : {-0.5, 0.5})
                    corners.push_back({m.at.x + i * (*m.box_m)[0], m.at.y + j * (*m.box_m)[1],
                                       m.height_m + k * (*m.box_m)[2]});
    } else {
        corners = {{m.at.x, m.at.y, m.height_m}};
        reach_x = m.radius_m * std::hypot(sun.x, sun.y) / std::abs(sun.y);
        reach_z = m.radius_m * std::hypot(sun.y, sun.z) / std::abs(sun.y);
    }
    Passing out;
    for (const double y : {0.0, -w.reveal_m}) {
        const auto within = [&](Point3 p) {
            const double t = (y - p.y) / sun.y, x = p.x + t * sun.x, z = p.z + t * sun.z;
            return std::array<double, 4>{x - x0, x1 - x, z - w.sill_m, w.sill_m + w.height_m - z};
        };
        const auto middle = within({m.at.x, m.at.y, m.height_m});
        for (std::size_t i = 0; i < 4; ++i) {
            double low = 1e9, high = -1e9;
            for (const Point3 p : corners) {
                low = std::min(low, within(p)[i]);
                high = std::max(high, within(p)[i]);
            }
            const double reach = i < 2 ? reach_x : reach_z;
            out.middle = std::min(out.middle, middle[i]);
            out.nearest = std::min(out.nearest, low - reach);
            out.farthest = std::min(out.farthest, high + reach);
        }
    }
    out.is_shut = w.reveal_m * std::abs(sun.x / sun.y) >= w.width_m ||
                  w.reveal_m * std::abs(sun.z / sun.y) >= w.height_m;
    return out;
}

}  // namespace

TEST_CASE("a mark is told to be dark or lit just where the opening's edges pass it", "[room]") {
    int dark = 0, lit = 0, none = 0, shut = 0;
    for (unsigned n = 0; n < 3000; ++n) {
        Dice dice{71000 + n};
        const bool is_box = dice.chance(0.5);
        const double reveal_m = n % 3 == 0 ? 0 : dice.between(0.05, 1.2);
        std::optional<std::array<double, 3>> box_m;
        if (is_box)
            box_m = {dice.between(0.1, 0.9), dice.between(0.1, 0.9), dice.between(0.1, 0.9)};
        Room r = marked_room(reveal_m, box_m);
        r.marks[0].height_m = dice.between(0.2, 1.8);
        if (n % 4 == 0) {  // narrow and low, a large mark close before it
            Window& w = r.windows[0];
            w.width_m = w.height_m = dice.between(0.1, 0.5);
            r.marks[0] = {"mark", {5 - w.width_m / 2, dice.between(0.7, 1)}, 1.2, 0.6, {}};
            if (is_box) r.marks[0].box_m = {1.2, 1.2, 1.2};
        }
        const double aside = dice.between(-75, 75);
        const Point3 sun = sun_at(aside, dice.between(0.5, 60));
        const Passing p = passing(r, sun);
        const Scene scene{r};
        CAPTURE(n, is_box, reveal_m, p.middle, p.nearest, p.farthest);
        if (std::min({std::abs(p.middle), std::abs(p.nearest), std::abs(p.farthest)}) < 1e-9)
            continue;
        const Touch most = scene.touch(0, 0, sun, 0.9), some = scene.touch(0, 0, sun, 0.3);
        CHECK(most.is_dark() == (p.is_shut || p.middle < 0));
        CHECK(some.is_dark() == (p.is_shut || p.farthest < 0));
        CHECK(most.is_lit() == (!p.is_shut && p.nearest > 0));
        CHECK(most.is_lit() == (scene.coverage(0, 0, sun) > 1 - 1e-12));
        ++(most.is_lit() ? lit : most.is_dark() ? dark : none);
        shut += p.is_shut && p.farthest > 0 ? 1 : 0;
    }
    CHECK(dark > 300);
    CHECK(lit > 60);
    CHECK(none > 50);
    CHECK(shut > 30);
}

TEST_CASE("what is told of a mark in four directions holds between them", "[room]") {
    int dark = 0, lit = 0, truly_lit = 0, truly_dark = 0;
    for (unsigned n = 0; n < 500; ++n) {
        Dice dice{72000 + n};
        const Case c = random_case(dice);
        if (c.r.marks.empty()) continue;
        const Scene scene{c.r};
        const std::size_t w = dice.index(c.r.windows.size());
        const Mark& m = c.r.marks[0];
        const double across = dice.between(-0.1, 1.1), up = dice.between(-0.1, 1.1);
        const Point3 to = in_the_beam(c.r, c.r.windows[w], {}, across, up, 0) -
                          Point3{m.at.x, m.at.y, m.height_m};
        const double azimuth = std::atan2(to.x, to.y),
                     altitude = std::atan2(to.z, std::hypot(to.x, to.y));
        const double size = std::array{0.05, 0.25, 1.0}[n % 3] * degree;
        if (altitude < 0.5 * degree || altitude > 70 * degree) continue;
        for (const double wanted : {0.9, 0.2}) {
            Touch all = Touch::everything();
            for (const double i : {0.0, size})
                for (const double k : {0.0, size})
                    all =
                        all.and_also(scene.touch(0, w, toward(azimuth + i, altitude + k), wanted));
            double least = 1, most = 0;
            for (int k = 0; k < 8; ++k) {
                const double east = dice.unit(), north = dice.unit();
                const double covered =
                    scene.coverage(0, w, toward(azimuth + east * size, altitude + north * size));
                least = std::min(least, covered);
                most = std::max(most, covered);
            }
            CAPTURE(n, w, wanted, m.box_m.has_value());
            if (all.is_dark()) CHECK(most < (wanted > 0.5 ? 0.5 + 1e-3 : 1e-9));
            if (all.is_lit()) CHECK(least > 1 - 1e-9);
            if (wanted < 0.5) continue;
            dark += all.is_dark() ? 1 : 0;
            lit += all.is_lit() ? 1 : 0;
            truly_lit += least > 1 - 1e-9 ? 1 : 0;
            truly_dark += most < 1e-9 ? 1 : 0;
        }
    }
    // Bounds that never held would be true, too.
    CHECK(lit > 0.7 * truly_lit);
    CHECK(dark > 0.7 * truly_dark);
    CHECK(truly_lit > 10);
    CHECK(truly_dark > 50);
}

TEST_CASE("what stands outside is told to hide a mark, to touch it, or to leave it be", "[room]") {
    // Ten metres off; straight before the window, 10 degrees up, the mark of radius 0.2 has x =
    // 3.8..4.2 and passes 13 m on at 1.2 + 13 tan 10, give or take 0.2 / cos 10.
    const Point3 sun = sun_at(0, 10);
    const double passes = 1.2 + 13 * std::tan(10 * degree), half = 0.2 / std::cos(10 * degree);
    const auto touch = [&](double x0, double x1, double top, double wanted = 0.9) {
        Room r = marked_room(0.2);
        r.buildings = {{"tower", {{x0, -10}, {x1, -10}, {x1, -10.001}, {x0, -10.001}}, top, {}}};
        return Scene{r}.touch(0, 0, sun, wanted);
    };
    for (const double wanted : {0.9, 0.2}) {
        CHECK(touch(3.79, 4.21, passes + half + 0.01, wanted).is_dark());
        CHECK_FALSE(touch(3.79, 4.21, passes + half - 0.01, wanted).is_dark());
        CHECK_FALSE(touch(3.81, 4.21, 20, wanted).is_dark());
        CHECK_FALSE(touch(3.79, 4.19, 20, wanted).is_dark());
    }
    for (const Touch t :
         {touch(3, 3.79, 20), touch(4.21, 5, 20), touch(3, 5, passes - half - 0.01)}) {
        CHECK(t.is_lit());
        CHECK_FALSE(t.nears_outside());
    }
    for (const Touch t :
         {touch(3, 3.81, 20), touch(4.19, 5, 20), touch(3, 5, passes - half + 0.01)}) {
        CHECK_FALSE(t.is_lit());
        CHECK(t.nears_outside());
        CHECK_FALSE(t.is_dark());
    }
    // Nearer, and the same inside: a table touches no mark that it stands behind.
    const auto table = [&](double y0, double y1, double top) {
        Room r = marked_room(0.2);
        r.objects = {{"table", {{3, y0}, {5, y0}, {5, y1}, {3, y1}}, top}};
        return Scene{r}.touch(0, 0, sun, 0.9);
    };
    CHECK(table(3.3, 3.6, 1.1).is_lit());
    CHECK_FALSE(table(2, 2.5, 1.3).is_lit());
    CHECK_FALSE(table(2, 2.5, 1.3).nears_outside());
    CHECK(table(2, 2.5, 0.9).is_lit());
}

TEST_CASE("of what stands about, a mark knows what rays to it through the window can meet",
          "[room]") {
    // Four bits a piece, the lowest of which is set: straight from the window, mark in its middle.
    const auto pieces = [](const std::vector<Object>& objects,
                           const std::vector<room::Building>& buildings) {
        Room r = marked_room(0.3);
        r.objects = objects;
        r.buildings = buildings;
        return std::popcount(Scene{r}.touch(0, 0, sun_at(0, 10), 0.2).pieces);
    };
    const auto box = [](double x0, double x1, double y0, double y1) {
        return Ring{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
    };
    const auto inside = [&](const Ring& print, double top) {
        return pieces({{"o", print, top}}, {});
    };
    const auto outside = [&](const Ring& print) { return pieces({}, {{"b", print, 9, {}}}); };
    CHECK(pieces({}, {}) == 0);
    // A convex room's own walls stand in nobody's way, though rays graze them: a window from end to
    // end, a mark against a wall; whichever way the outline turns.
    for (const bool is_turned : {false, true}) {
        Room r = marked_room(0.3);
        if (is_turned) {
            r.floor = {{8, 0}, {0, 0}, {0, 6}, {8, 6}};
            r.walls = {"window", "left", "back", "right"};
        }
        r.windows[0].left_m = 0;
        r.windows[0].width_m = 8;
        r.marks[0].at.x = 0.2;
        CHECK(Scene{r}.touch(0, 0, sun_at(0, 10), 0.2).pieces == 0);
    }
    // Inside: between mark and window, beside the lines from one to the other, behind the mark, and
    // lower than it: rays to the sun only rise. From 3.8 and 4.2 at y = 3 the lines run to 3 and 5.
    CHECK(inside(box(3.9, 4.1, 1.4, 1.5), 3) == 1);
    CHECK(inside(box(4.66, 6, 1.5, 1.6), 3) == 0);
    CHECK(inside(box(4.55, 6, 1.5, 1.6), 3) == 1);
    CHECK(inside(box(2, 3.34, 1.5, 1.6), 3) == 0);
    CHECK(inside(box(2, 3.45, 1.5, 1.6), 3) == 1);
    CHECK(inside(box(3, 5, 3.21, 3.5), 3) == 0);
    CHECK(inside(box(3.9, 4.1, 1.4, 1.5), 0.99) == 0);
    CHECK(inside(box(3.9, 4.1, 1.4, 1.5), 1.01) == 1);
    // Outside: a line from the mark's far side through a jamb, at 10 m: the steepest passes x = 5
    // at the outer face, y = -0.3, and goes aside by no more than 1.2 in 3.1, of what stands
    // nearest.
    CHECK(outside(box(2, 6, -12, -10)) == 1);
    CHECK(outside(box(9.0, 12, -10.1, -10)) == 0);
    CHECK(outside(box(8.4, 12, -10.1, -10)) == 1);
    CHECK(outside(box(-6, -1.0, -10.1, -10)) == 0);
    CHECK(outside(box(-6, -0.4, -10.1, -10)) == 1);
    CHECK(pieces({{"o", box(3.9, 4.1, 1.4, 1.5), 3}},
                 {{"b", box(2, 6, -12, -10), 9, {}}, {"c", box(9, 12, -10.1, -10), 9, {}}}) == 2);
}

TEST_CASE("from behind the wall and under a sun that is down a mark is told to be dark", "[room]") {
    const Scene scene{marked_room(0.2)};
    for (const double wanted : {0.9, 0.2})
        for (const Point3 sun : {sun_at(180, 10), sun_at(91, 10), sun_at(0, -0.1)})
            CHECK(scene.touch(0, 0, sun, wanted).is_dark());
}

TEST_CASE("what may shade a mark is told wherever it does, and nowhere far from its light",
          "[room]") {
    int shaded = 0, clear = 0;
    for (unsigned n = 0; n < 400; ++n) {
        Dice dice{73000 + n};
        const Case c = random_case(dice);
        const Scene scene{c.r};
        Room open = c.r;
        open.buildings.clear();
        for (std::size_t w = 0; w < c.r.windows.size(); ++w)
            for (std::size_t m = 0; m < c.r.marks.size(); ++m)
                for (const Point3 sun : c.suns) {
                    const bool may_be = scene.may_be_shaded(m, w, sun);
                    const double lost = Scene{open}.coverage(m, w, sun) - scene.coverage(m, w, sun);
                    CAPTURE(n, w, m, lost);
                    if (lost > 1e-9) CHECK(may_be);
                    shaded += lost > 1e-9 ? 1 : 0;
                    clear += may_be ? 0 : 1;
                }
    }
    CHECK(shaded > 10);
    CHECK(clear > 500);
    // By planes: as above, but the box round the sphere's outline is what is judged.
    const Point3 sun = sun_at(0, 10);
    const double passes = 1.2 + 13 * std::tan(10 * degree), half = 0.2 / std::cos(10 * degree);
    const auto may_be = [&](double x0, double x1, double top, Point3 from) {
        Room r = marked_room(0.2);
        r.buildings = {{"tower", {{x0, -10}, {x1, -10}, {x1, -10.001}, {x0, -10.001}}, top, {}}};
        return Scene{r}.may_be_shaded(0, 0, from);
    };
    CHECK(may_be(3, 3.81, 20, sun));
    CHECK_FALSE(may_be(3, 3.79, 20, sun));
    CHECK(may_be(4.19, 5, 20, sun));
    CHECK_FALSE(may_be(4.21, 5, 20, sun));
    CHECK(may_be(3, 5, passes - half + 0.01, sun));
    CHECK_FALSE(may_be(3, 5, passes - half - 0.01, sun));
    // Of a box the least corner counts, where a roof that slants across the ray cuts it.
    int slanting = 0;
    for (unsigned n = 0; n < 300; ++n) {
        Dice dice{75000 + n};
        Room r = marked_room(0.2, std::array<double, 3>{0.3, 0.3, 0.3});
        const double free = Scene{r}.coverage(0, 0, sun);
        const double turn = dice.between(-1.2, 1.2);
        const Point2 at{dice.between(3, 5), -10}, reach{2 * std::cos(turn), 2 * std::sin(turn)};
        const Point2 thick{0, -1e-3};
        r.buildings = {{"wall",
                        {at - reach, at + reach, at + reach + thick, at - reach + thick},
                        passes + dice.between(-0.5, 0.5),
                        {}}};
        const Scene scene{r};
        const double lost = free - scene.coverage(0, 0, sun);
        if (lost > 1e-9) CHECK(scene.may_be_shaded(0, 0, sun));
        slanting += lost > 1e-9 && lost < 0.1 ? 1 : 0;
    }
    CHECK(slanting > 10);
    CHECK_FALSE(may_be(3, 5, 20, sun_at(180, 10)));
    CHECK_FALSE(may_be(3, 5, 20, sun_at(60, 10)));  // the mark has no light then
}

TEST_CASE("light lands within a radius where a patch lies nearer than that", "[room]") {
    int within = 0, beyond = 0;
    for (unsigned n = 0; n < 60; ++n) {
        Dice dice{74000 + n};
        const Case c = random_case(dice);
        const Scene scene{c.r};
        for (std::size_t w = 0; w < c.r.windows.size(); ++w)
            for (const Point3 sun : c.suns) {
                const auto patches = scene.patches(w, sun);
                for (int k = 0; k < 4; ++k) {
                    const Point2 at =
                        c.r.floor[0] + Point2{dice.between(-4, 4), dice.between(-4, 4)};
                    const Point3 p{at.x, at.y, dice.between(0, c.r.height_m)};
                    double least = 1e9;
                    for (const room::Patch& patch : patches)
                        least = std::min(least, distance_to(patch, p));
                    const double radius = dice.chance(0.5) || patches.empty()
                                              ? dice.between(0.1, 5)
                                              : least * dice.between(0.8, 1.2);
                    if (std::abs(radius - least) < 1e-6) continue;
                    CAPTURE(n, w, k, least, radius);
                    CHECK(scene.lands_within(w, sun, p, radius) == (least < radius));
                    ++(least < radius ? within : beyond);
                }
            }
    }
    CHECK(within > 200);
    CHECK(beyond > 200);
}
