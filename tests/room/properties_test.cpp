// What must hold for every room, whatever its figures.

#include <catch2/catch.hpp>
#include <optional>

#include "keyhour/room/scene.hpp"
#include "support/face.hpp"
#include "support/random_room.hpp"

using namespace keyhour;
using namespace keyhour::test;
using room::Edge;
using room::Loss;
using room::Patch;
using room::PlanTurn;
using room::Scene;
using room::Surface;

namespace {

constexpr double degree = std::numbers::pi / 180;

/// A room with marks, and the suns that they were placed for.
struct Case {
    Room r;
    std::vector<Point3> suns;
};

Case random_case(Dice& dice) {
    Case c;
    c.r = random_room(dice);
    c.suns = {random_sun(dice, c.r), random_sun(dice, c.r)};
    add_marks(dice, c.r, 2, c.suns);
    return c;
}

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

std::optional<Patch> patch_on(const std::vector<Patch>& patches, Surface surface) {
    for (const Patch& patch : patches)
        if (patch.surface == surface) return patch;
    return std::nullopt;
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

/// The face of the surface in whose plane and outline the ring lies.
const Face* face_under(const std::vector<Face>& faces, Surface surface,
                       const std::vector<Point3>& ring) {
    const Face* best = nullptr;
    double least = 1e-6;
    for (const Face& face : faces) {
        const bool same = surface.kind == Surface::Kind::floor  ? face.part == Part::floor
                          : surface.kind == Surface::Kind::wall ? face.part == Part::wall
                                                                : face.part == Part::object;
        if (!same || (face.part != Part::floor && face.index != surface.index)) continue;
        double off = off_plane(face, ring);
        for (const Point3 p : ring)
            if (!inside({face.outline}, face.flat(p)))
                off = std::max(off, distance_to_edges({face.outline}, face.flat(p)));
        if (off < least) {
            least = off;
            best = &face;
        }
    }
    return best;
}

/// Shortest way from p to the lit part of the faces: straight down onto it, or to its nearest edge.
double distance_to_light(const std::vector<Face>& faces, const Patch& patch, Point3 p) {
    double least = 1e9;
    for (const Face& face : faces) {
        std::vector<Ring> rings;
        for (const auto& ring : patch.outlines)
            if (face_under(faces, patch.surface, ring) == &face)
                rings.push_back(flattened(face, ring));
        const Point2 below = face.flat(p);
        const double aside = inside(rings, below) ? 0 : distance_to_edges(rings, below);
        least = std::min(least, std::hypot(aside, face.height_over(p)));
    }
    return least;
}

double perimeter(const std::vector<Patch>& patches) {
    double sum = 0;
    for (const Patch& patch : patches)
        for (const auto& ring : patch.outlines)
            for (std::size_t i = 0; i < ring.size(); ++i) {
                const Point3 d = ring[(i + 1) % ring.size()] - ring[i];
                sum += std::sqrt(dot(d, d));
            }
    return sum;
}

}  // namespace

TEST_CASE("turning the whole plan and its bearing together changes nothing", "[room]") {
    for (unsigned n = 0; n < 150; ++n) {
        Dice dice{5000 + n};
        const Case c = random_case(dice);
        const double rest = has_boxes(c.r) ? 0 : dice.between(0, 6.28);
        const Room other = turned_plan(c.r, dice.whole(0, 3), rest,
                                       {dice.between(-50, 50), dice.between(-50, 50)});
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

TEST_CASE("every patch lies in its surface and turns as the format says", "[room]") {
    for (unsigned n = 0; n < 300; ++n) {
        Dice dice{8000 + n};
        const Case c = random_case(dice);
        const Scene scene{c.r};
        const std::vector<Face> faces = faces_of(c.r);
        for (const Point3 sun : c.suns)
            for (std::size_t w = 0; w < c.r.windows.size(); ++w)
                for (const Patch& patch : scene.patches(w, sun)) {
                    double area = 0;
                    Point3 moment;
                    const Face* outer_face = nullptr;
                    Ring outer;
                    for (const auto& ring : patch.outlines) {
                        REQUIRE(ring.size() >= 3);
                        const Face* face = face_under(faces, patch.surface, ring);
                        REQUIRE(face);
                        CHECK(dot(face->normal, sun) > 0);
                        const Ring flat = flattened(*face, ring);
                        const double signed_m2 = room::signed_area(flat);
                        area += signed_m2;
                        for (std::size_t i = 1; i + 1 < ring.size(); ++i) {
                            const double part = cross(flat[i] - flat[0], flat[i + 1] - flat[0]) / 2;
                            moment = moment + (part / 3) * (ring[0] + ring[i] + ring[i + 1]);
                        }
                        if (signed_m2 > 0) {
                            outer_face = face;
                            outer = flat;
                            continue;
                        }
                        // A hole belongs to the outer ring before it.
                        REQUIRE(outer_face == face);
                        for (const Point2 p : flat)
                            CHECK((inside({outer}, p) || distance_to_edges({outer}, p) < 1e-6));
                    }
                    CHECK(patch.area_m2 == Approx(area).epsilon(1e-6).margin(1e-8));
                    CHECK(patch.area_m2 >= room::smallest_patch_m2);
                    const Point3 off = (1 / area) * moment - patch.centroid;
                    CHECK(std::sqrt(dot(off, off)) < 1e-4);

                    // Soft edge: throw from the outer plane x angular diameter.
                    const Window& window = c.r.windows[w];
                    const room::WallFrame f = room::wall_frame(c.r.floor, window.wall);
                    const Point2 from{patch.centroid.x, patch.centroid.y};
                    const double throw_m =
                        (dot(f.left_corner - from, f.n) + window.reveal_m) / scene.in_front(w, sun);
                    CHECK(patch.edge_width_m == Approx(throw_m * 0.5331 * degree).epsilon(1e-4));
                }
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

TEST_CASE("the distance to a patch is that to its nearest lit point", "[room]") {
    for (unsigned n = 0; n < 100; ++n) {
        Dice dice{8800 + n};
        const Case c = random_case(dice);
        const Scene scene{c.r};
        const std::vector<Face> faces = faces_of(c.r);
        for (std::size_t w = 0; w < c.r.windows.size(); ++w)
            for (const Patch& patch : scene.patches(w, c.suns[0]))
                for (int k = 0; k < 10; ++k) {
                    const Point2 at =
                        c.r.floor[0] + Point2{dice.between(-6, 6), dice.between(-6, 6)};
                    const Point3 p{at.x, at.y, dice.between(0, c.r.height_m)};
                    CHECK(room::distance_to(patch, p) ==
                          Approx(distance_to_light(faces, patch, p)).margin(1e-6));
                }
    }
}

TEST_CASE("a patch is in frame where one of its points is", "[room]") {
    long in = 0, out = 0;
    for (unsigned n = 0; n < 200; ++n) {
        Dice dice{8900 + n};
        Case c = random_case(dice);
        if (c.r.marks.empty()) continue;
        const Mark& mark = c.r.marks[0];
        room::Camera camera;
        camera.at = mark.at + Point2{dice.between(-4, 4), dice.between(-4, 4)};
        camera.height_m = dice.between(0.2, 2.5);
        camera.view = Angle::degrees(dice.between(8, 70));
        camera.view_vertical = (9.0 / 16) * camera.view;
        const Point3 eye{camera.at.x, camera.at.y, camera.height_m};
        const std::vector<Face> faces = faces_of(c.r);
        const Scene scene{c.r};
        for (const Patch& patch : scene.patches(0, c.suns[0])) {
            long in_view = 0;
            for (const auto& ring : patch.outlines) {
                const Face& face = *face_under(faces, patch.surface, ring);
                const Ring flat = flattened(face, ring);
                std::vector<Ring> all{flat};
                for (const auto& other : patch.outlines)
                    if (&other != &ring && face_under(faces, patch.surface, other) == &face)
                        all.push_back(flattened(face, other));
                for (int k = 0; k < 300; ++k) {
                    const Point2 a = flat[dice.index(flat.size())],
                                 b = flat[dice.index(flat.size())];
                    const Point2 d = flat[dice.index(flat.size())];
                    const Point2 p = a + dice.unit() * (b - a) + dice.unit() * (d - a);
                    if (inside(all, p) && room::in_frame(c.r, camera, face.at(p) - eye)) ++in_view;
                }
            }
            const bool said = room::in_frame(c.r, camera, patch);
            ++(said ? in : out);
            if (in_view > 0) CHECK(said);
        }
    }
    CHECK(in > 50);
    CHECK(out > 50);
}

TEST_CASE("a stool in the light makes a hole in the patch on the floor", "[room]") {
    Room r;
    r.floor = {{0, 0}, {8, 0}, {8, 8}, {0, 8}};
    r.walls = {"south", "east", "north", "west"};
    r.height_m = 4;
    Window w;
    w.name = "studio window";
    w.left_m = 0.5;
    w.width_m = 7;
    w.sill_m = 0.1;
    w.height_m = 3.8;
    r.windows.push_back(w);
    const double stool_m = 0.4;
    for (const double x : {2.0, 5.0})
        r.objects.push_back(
            {"stool", {{x, 2}, {x + stool_m, 2}, {x + stool_m, 2.4}, {x, 2.4}}, 0.5});
    const Point3 sun{0, -std::sqrt(0.5), std::sqrt(0.5)};  // square to the wall, 45 degrees up
    const auto patches = Scene{r}.patches(0, sun);
    const auto floor = patch_on(patches, {Surface::Kind::floor, 0});
    REQUIRE(floor);
    REQUIRE(floor->outlines.size() == 3);
    const Face face = faces_of(r)[0];
    CHECK(room::signed_area(flattened(face, floor->outlines[0])) == Approx(7 * 3.8));
    // Under the stool and as far behind it as it is high.
    for (std::size_t i : {1u, 2u})
        CHECK(room::signed_area(flattened(face, floor->outlines[i])) ==
              Approx(-stool_m * (stool_m + 0.5)));

    // A camera overhead sees no light while its frame stays within the hole.
    r.marks.push_back({"seat", {2.2, 2.6}, 0.01, 0.01, {}});
    const auto sees_light = [&](double view_deg) {
        const room::Camera camera{
            "overhead", {2.2, 2.59}, 3, 0, Angle::degrees(view_deg), Angle::degrees(view_deg)};
        return room::in_frame(r, camera, *floor);
    };
    CHECK_FALSE(sees_light(4));  // 0.2 m across on the floor, the hole is 0.4 m x 0.9 m
    CHECK(sees_light(12));
}

TEST_CASE("patches and coverages are continuous in time", "[room]") {
    // The sun walks a quarter of a degree (a minute of time) in steps of 0.001 degree. An edge of a
    // patch at throw L moves by at most L x step / cos(incidence)^2; so no area changes by more
    // than its perimeter times that. The bound takes the longest throw that the scene allows and
    // the larger of the two perimeters, doubled for what comes and goes between the two instants.
    const double step = 0.001 * degree;
    long steps = 0;
    for (unsigned n = 0; n < 24; ++n) {
        Dice dice{9000 + n};
        const Case c = random_case(dice);
        const Scene scene{c.r};
        double reach = 0;  // farthest corner that may cast an edge
        for (const Building& b : c.r.buildings)
            for (const Point2 p : b.footprint)
                reach = std::max(reach, length(p - c.r.floor[0]) + 15 + b.height_m);
        reach = std::max(reach, 25.0);
        const double start = std::atan2(c.suns[0].y, c.suns[0].x);
        const double altitude = std::max(std::asin(c.suns[0].z), 10 * degree);
        const double climb = dice.between(-1, 1);
        for (std::size_t w = 0; w < c.r.windows.size(); ++w) {
            std::vector<Patch> before;
            std::vector<double> covered_before(c.r.marks.size());
            for (int k = 0; k <= 250; ++k) {
                const Point3 sun = direction(start + k * step, altitude + 0.5 * climb * k * step);
                const std::vector<Patch> now = scene.patches(w, sun);
                const double edges = std::max(perimeter(before), perimeter(now));
                for (const Face& face : faces_of(c.r)) {
                    const Surface surface{face.part == Part::floor  ? Surface::Kind::floor
                                          : face.part == Part::wall ? Surface::Kind::wall
                                                                    : Surface::Kind::object,
                                          face.index};
                    const double cosine = dot(face.normal, sun);
                    if (k == 0 || face.part == Part::object || cosine < 0.1) continue;
                    const auto a = patch_on(before, surface), b = patch_on(now, surface);
                    const double change = std::abs((a ? a->area_m2 : 0) - (b ? b->area_m2 : 0));
                    // A patch below 1 cm2 is not listed.
                    CHECK(change <= room::smallest_patch_m2 +
                                        2 * edges * reach * 1.5 * step / (cosine * cosine));
                    ++steps;
                }
                for (std::size_t m = 0; m < c.r.marks.size(); ++m) {
                    const Mark& mark = c.r.marks[m];
                    // Each edge's shadow moves across the silhouette by reach x step; some forty
                    // edges (bars, panes, outlines) can cross it at its full width.
                    const double width = mark.box_m
                                             ? std::sqrt((*mark.box_m)[0] * (*mark.box_m)[0] +
                                                         (*mark.box_m)[1] * (*mark.box_m)[1] +
                                                         (*mark.box_m)[2] * (*mark.box_m)[2])
                                             : 2 * mark.radius_m;
                    const double least = mark.box_m
                                             ? std::min({(*mark.box_m)[0] * (*mark.box_m)[1],
                                                         (*mark.box_m)[1] * (*mark.box_m)[2],
                                                         (*mark.box_m)[2] * (*mark.box_m)[0]}) *
                                                   0.5
                                             : std::numbers::pi * mark.radius_m * mark.radius_m;
                    const double covered = scene.coverage(m, w, sun);
                    if (k > 0)
                        CHECK(std::abs(covered - covered_before[m]) <=
                              40 * width * reach * 1.5 * step / least);
                    covered_before[m] = covered;
                }
                before = now;
            }
        }
    }
    CHECK(steps > 10000);
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
