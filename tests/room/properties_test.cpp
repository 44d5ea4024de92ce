// What must hold for every room, whatever its figures.

#include <catch2/catch.hpp>
#include <optional>

#include "keyhour/room/scene.hpp"
#include "random_case.hpp"

using namespace keyhour;
using namespace keyhour::test;
using room::Edge;
using room::Loss;
using room::Patch;
using room::PlanTurn;
using room::Scene;
using room::Surface;

namespace {

/// Plan axes -> east, north, up; written apart from PlanTurn, from the bearing of the plan's y
/// axis.
LevelVector level(const Room& r, Point3 v) {
    const double y_axis = room::plan_bearing(r).from_north.in_radians(),
                 x_axis = y_axis + 90 * degree;
    return {v.x * std::sin(x_axis) + v.y * std::sin(y_axis),
            v.x * std::cos(x_axis) + v.y * std::cos(y_axis), v.z};
}

/// The whole plan drawn turned by quarter turns and a rest; boxes stay along x and y, so they are
/// turned by the quarters alone and the caller passes rest 0 when there are any.
Room turned_plan(const Room& r, int quarters, double rest_rad, Point2 shift) {
    const double turn = quarters * 90 * degree + rest_rad;
    Room out = r;
    out.floor = placed(r.floor, turn, shift);
    for (Object& o : out.objects)
        o.footprint = placed(o.footprint, turn, shift);
    for (Building& b : out.buildings)
        b.footprint = placed(b.footprint, turn, shift);
    for (Mark& m : out.marks) {
        m.at = placed({m.at}, turn, shift)[0];
        if (m.box_m && quarters % 2 != 0) std::swap((*m.box_m)[0], (*m.box_m)[1]);
    }
    return out;
}

bool has_boxes(const Room& r) {
    return std::ranges::any_of(r.marks, [](const Mark& m) { return m.box_m.has_value(); });
}

Room mirrored(const Room& r) {
    const auto flip = [](Ring ring) {
        for (Point2& p : ring)
            p.x = -p.x;
        return ring;
    };
    Room out = r;
    out.floor = flip(r.floor);
    for (Object& o : out.objects)
        o.footprint = flip(o.footprint);
    for (Building& b : out.buildings)
        b.footprint = flip(b.footprint);
    for (Mark& m : out.marks)
        m.at.x = -m.at.x;
    for (Window& w : out.windows)
        w.left_m = room::wall_frame(r.floor, w.wall).width_m - w.left_m - w.width_m;
    return out;
}

/// Same surfaces, same areas; a patch of just 1 cm2 may be listed on one side only.
void check_same_areas(const std::vector<Patch>& one, const std::vector<Patch>& other) {
    for (const Patch& a : one) {
        const auto b = patch_on(other, a.surface);
        if (a.area_m2 > 1.001 * room::smallest_patch_m2) {
            REQUIRE(b);
            CHECK(b->area_m2 == Approx(a.area_m2).epsilon(1e-6).margin(1e-6));
            CHECK(b->edge_width_m == Approx(a.edge_width_m).epsilon(1e-6).margin(1e-9));
        }
    }
    for (const Patch& b : other)
        CHECK((patch_on(one, b.surface) || b.area_m2 < 1.001 * room::smallest_patch_m2));
}

double fraction_of(const std::vector<Loss>& losses, room::LimitingEdge edge) {
    double sum = 0;
    for (const Loss& loss : losses)
        if (loss.edge == edge) sum += loss.fraction;
    return sum;
}

room::LimitingEdge left_for_right(room::LimitingEdge edge) {
    if (edge.kind == Edge::left_jamb) return {Edge::right_jamb, edge.index};
    if (edge.kind == Edge::right_jamb) return {Edge::left_jamb, edge.index};
    return edge;
}

void check_mirrored_losses(const std::vector<Loss>& one, const std::vector<Loss>& other) {
    for (const Loss& loss : one)
        CHECK(fraction_of(other, left_for_right(loss.edge)) ==
              Approx(fraction_of(one, loss.edge)).margin(1e-7));
    for (const Loss& loss : other)
        CHECK(fraction_of(one, left_for_right(loss.edge)) ==
              Approx(fraction_of(other, loss.edge)).margin(1e-7));
}

/// Twice the area that a ring shows in each direction: the sum of corner x next corner.
Point3 twice_area_vector(const std::vector<Point3>& ring) {
    Point3 sum;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Point3 a = ring[i] - ring[0], b = ring[(i + 1) % ring.size()] - ring[0];
        sum = sum + Point3{a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
    }
    return sum;
}

}  // namespace

TEST_CASE("turning the whole plan and its bearing together changes nothing", "[room]") {
    for (unsigned n = 0; n < 150; ++n) {
        Dice dice{5000 + n};
        const Case c = random_case(dice);
        const double rest = has_boxes(c.r) ? 0 : dice.between(0, 6.28);
        const Point2 shift{dice.between(-50, 50), dice.between(-50, 50)};
        const Room other = turned_plan(c.r, dice.whole(0, 3), rest, shift);
        const Scene one{c.r}, two{other};
        for (const Point3 plan_sun : c.suns) {
            const LevelVector sun = level(c.r, plan_sun);
            const Point3 sun_one = PlanTurn{room::plan_bearing(c.r)}.to_plan(sun);
            const Point3 sun_two = PlanTurn{room::plan_bearing(other)}.to_plan(sun);
            CHECK(length(Point2{sun_one.x - plan_sun.x, sun_one.y - plan_sun.y}) < 1e-12);
            for (std::size_t w = 0; w < c.r.windows.size(); ++w) {
                check_same_areas(one.patches(w, sun_one), two.patches(w, sun_two));
                CHECK(two.open_area(w, sun_two) == Approx(one.open_area(w, sun_one)).margin(1e-9));
                for (std::size_t m = 0; m < c.r.marks.size(); ++m)
                    CHECK(two.coverage(m, w, sun_two) ==
                          Approx(one.coverage(m, w, sun_one)).margin(1e-7));
            }
        }
    }
}

TEST_CASE("mirroring the plan swaps left and right and nothing else", "[room]") {
    long jambs = 0;
    for (unsigned n = 0; n < 150; ++n) {
        Dice dice{6000 + n};
        const Case c = random_case(dice);
        const Scene one{c.r}, two{mirrored(c.r)};
        for (const Point3 sun : c.suns) {
            const Point3 other_sun{-sun.x, sun.y, sun.z};
            for (std::size_t w = 0; w < c.r.windows.size(); ++w) {
                check_same_areas(one.patches(w, sun), two.patches(w, other_sun));
                CHECK(two.open_area(w, other_sun) == Approx(one.open_area(w, sun)).margin(1e-9));
                check_mirrored_losses(one.opening_losses(w, sun), two.opening_losses(w, other_sun));
                for (std::size_t m = 0; m < c.r.marks.size(); ++m) {
                    CHECK(two.coverage(m, w, other_sun) ==
                          Approx(one.coverage(m, w, sun)).margin(1e-7));
                    const auto losses = one.losses(m, w, sun);
                    check_mirrored_losses(losses, two.losses(m, w, other_sun));
                    if (fraction_of(losses, {Edge::left_jamb, 0}) > 0) ++jambs;
                }
            }
        }
    }
    CHECK(jambs > 100);
}

TEST_CASE("no light is lost or made between the opening and the surfaces", "[room]") {
    // Light through an opening of A m2 in its wall's plane is a beam of A cos(incidence) m2 across;
    // each patch takes area x cos(incidence on its face) of it, and no light goes anywhere else.
    double through = 0;
    for (unsigned n = 0; n < 300; ++n) {
        Dice dice{7000 + n};
        const Case c = random_case(dice);
        const Scene scene{c.r};
        // Left out: patches below 1 cm2, one at most for each surface.
        const double left_out = room::smallest_patch_m2 *
                                static_cast<double>(1 + c.r.floor.size() + c.r.objects.size());
        for (const Point3 sun : c.suns)
            for (std::size_t w = 0; w < c.r.windows.size(); ++w) {
                double landed = 0;
                for (const Patch& patch : scene.patches(w, sun))
                    for (const auto& ring : patch.outlines)
                        landed += dot(twice_area_vector(ring), sun) / 2;
                const double entered =
                    scene.open_area(w, sun) * std::max(0.0, scene.in_front(w, sun));
                through += entered;
                CHECK(landed <= entered + 1e-6);
                CHECK(landed >= entered - left_out - 1e-6);
            }
    }
    CHECK(through > 100);
}

TEST_CASE("an unshaded opening is open between its bars and its reveal", "[room]") {
    // Rays that pass form a grid: what the bars leave of the width, times what they leave of the
    // height, each first cut by the reveal. Counted here in slices of the opening.
    for (unsigned n = 0; n < 200; ++n) {
        Dice dice{7500 + n};
        Case c = random_case(dice);
        c.r.floor = {{-3, -2}, {3, -2}, {3, 2}, {-3, 2}};
        c.r.objects.clear();
        c.r.buildings.clear();
        c.r.marks.clear();
        c.r.windows.resize(1);
        Window& w = c.r.windows[0];
        w.wall = 0;
        w.left_m = 0.2;
        const Point3 sun = random_sun(dice, c.r);
        const room::WallFrame f = room::wall_frame(c.r.floor, 0);
        const double front = dot(Point2{sun.x, sun.y}, f.n);
        const double aside = dot(Point2{sun.x, sun.y}, f.u) / front, up = sun.z / front;
        const auto open = [&](double size, double slope, int bars) {
            const int slices = 20000;
            const double pane = (size - bars * w.bars.width_m) / (bars + 1);
            int free = 0;
            for (int i = 0; i < slices; ++i) {
                const double inner = size * (i + 0.5) / slices;
                const double outer = inner + slope * w.reveal_m;
                const double at_bars = inner + slope * (w.reveal_m - w.bars.set_back_m);
                const double in_bay = at_bars - (pane + w.bars.width_m) *
                                                    std::floor(at_bars / (pane + w.bars.width_m));
                if (outer > 0 && outer < size && in_bay < pane) ++free;
            }
            return size * free / slices;
        };
        const double expected =
            open(w.width_m, aside, w.bars.upright) * open(w.height_m, up, w.bars.level);
        // A slice at each of up to ten edges a side can fall either way.
        CHECK(Scene{c.r}.open_area(0, sun) ==
              Approx(expected).margin(10.0 / 20000 * 2 * w.width_m * w.height_m));
    }
}

TEST_CASE("what a mark loses to its edges bounds what it keeps", "[room]") {
    long partly = 0;
    for (unsigned n = 0; n < 300; ++n) {
        Dice dice{8500 + n};
        const Case c = random_case(dice);
        const Scene scene{c.r};
        for (const Point3 sun : c.suns)
            for (std::size_t w = 0; w < c.r.windows.size(); ++w)
                for (std::size_t m = 0; m < c.r.marks.size(); ++m) {
                    double sum = 0, most = 0;
                    for (const Loss& loss : scene.losses(m, w, sun)) {
                        CHECK(loss.fraction >= 0);
                        CHECK(loss.fraction <= 1);
                        sum += loss.fraction;
                        most = std::max(most, loss.fraction);
                    }
                    const double kept = scene.coverage(m, w, sun);
                    if (kept > 0 && kept < 1) ++partly;
                    CHECK(kept <= 1 - most + 1e-7);
                    CHECK(kept >= 1 - sum - 1e-7);
                }
    }
    CHECK(partly > 100);
}

TEST_CASE("a sun overhead, level, below or behind draws no patch", "[room]") {
    for (unsigned n = 0; n < 40; ++n) {
        Dice dice{9500 + n};
        const Case c = random_case(dice);
        const Scene scene{c.r};
        for (std::size_t w = 0; w < c.r.windows.size(); ++w) {
            const Point2 out = room::wall_frame(c.r.floor, c.r.windows[w].wall).n;
            const Point2 along = room::wall_frame(c.r.floor, c.r.windows[w].wall).u;
            for (const Point3 sun :
                 {Point3{0, 0, 1}, Point3{out.x, out.y, 0}, Point3{0.8 * out.x, 0.8 * out.y, -0.6},
                  Point3{-0.6 * out.x, -0.6 * out.y, 0.8},
                  Point3{0.6 * along.x, 0.6 * along.y, 0.8}}) {
                CHECK(scene.patches(w, sun).empty());
                CHECK(scene.open_area(w, sun) == 0);
                for (std::size_t m = 0; m < c.r.marks.size(); ++m)
                    CHECK(scene.coverage(m, w, sun) == 0);
            }
        }
    }
}
