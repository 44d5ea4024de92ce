// A patch against the face that it lies in, in random rooms.

#include <catch2/catch.hpp>

#include "keyhour/room/scene.hpp"
#include "random_case.hpp"
#include "support/face.hpp"

using namespace keyhour;
using namespace keyhour::test;
using room::Patch;
using room::Scene;
using room::Surface;

namespace {

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

/// Rings lie in lit faces of the surface, holes in the outer ring before them; area and centroid
/// are those of the rings.
void check_outlines(const std::vector<Face>& faces, const Patch& patch, Point3 sun) {
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
}

void check_soft_edge(const Room& r, const Scene& scene, std::size_t w, const Patch& patch,
                     Point3 sun) {
    // Soft edge: throw from the outer plane x angular diameter.
    const Window& window = r.windows[w];
    const room::WallFrame f = room::wall_frame(r.floor, window.wall);
    const Point2 from{patch.centroid.x, patch.centroid.y};
    const double throw_m =
        (dot(f.left_corner - from, f.n) + window.reveal_m) / scene.in_front(w, sun);
    CHECK(patch.edge_width_m == Approx(throw_m * 0.5331 * degree).epsilon(1e-4));
}

}  // namespace

TEST_CASE("every patch lies in its surface and turns as the format says", "[room]") {
    for (unsigned n = 0; n < 300; ++n) {
        Dice dice{8000 + n};
        const Case c = random_case(dice);
        const Scene scene{c.r};
        const std::vector<Face> faces = faces_of(c.r);
        for (const Point3 sun : c.suns)
            for (std::size_t w = 0; w < c.r.windows.size(); ++w)
                for (const Patch& patch : scene.patches(w, sun)) {
                    check_outlines(faces, patch, sun);
                    check_soft_edge(c.r, scene, w, patch, sun);
                }
    }
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
                    const double far = dice.unit(), near = dice.unit();
                    const Point2 p = a + near * (b - a) + far * (d - a);
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

TEST_CASE("of a table's two lit faces one in the frame is enough, and one out of it no matter",
          "[room]") {
    Room r;
    r.floor = {{0, 0}, {8, 0}, {8, 8}, {0, 8}};
    r.walls = {"south", "east", "north", "west"};
    r.height_m = 4;
    Window w;
    w.name = "window";
    w.width_m = 8;
    w.height_m = 4;
    r.windows.push_back(w);
    r.objects = {{"table", {{3, 3}, {5, 3}, {5, 4}, {3, 4}}, 1}};
    const Point3 sun{0, -std::sqrt(0.75), 0.5};
    const auto patches = Scene{r}.patches(0, sun);
    const auto table = patch_on(patches, {Surface::Kind::object, 0});
    REQUIRE(table);
    CHECK(table->area_m2 == Approx(2 * 1 + 2 * 1));  // its top and its front
    const auto sees = [&](Point3 eye, Point3 at, double view_deg) {
        r.marks = {{"mark", {at.x, at.y}, at.z, 0.01, {}}};
        const room::Camera camera{"camera", {eye.x, eye.y},           eye.z,
                                  0,        Angle::degrees(view_deg), Angle::degrees(view_deg)};
        return room::in_frame(r, camera, *table);
    };
    // The middle of its top, of its front; what lies 0.3 m beside either, seen by 4 degrees.
    CHECK(sees({4, 3.4, 3}, {4, 3.5, 1}, 4));
    CHECK(sees({4, 1, 0.6}, {4, 3, 0.5}, 4));
    CHECK_FALSE(sees({5.3, 3.4, 3}, {5.3, 3.5, 1}, 4));
    CHECK_FALSE(sees({5.3, 1, 0.6}, {5.3, 3, 0.5}, 4));
    CHECK_FALSE(sees({4, 1, 0.6}, {4, 0, 0.5}, 60));  // behind the camera
    // 0.3 m beside, 2 m away: the table comes into a frame of tan 8.5 degrees.
    CHECK_FALSE(sees({5.3, 3.4, 3}, {5.3, 3.5, 1}, 16.6));
    CHECK(sees({5.3, 3.4, 3}, {5.3, 3.5, 1}, 17.6));
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

    // From over the first hole, 2..2.4 by 2..2.9, the light's edge lies 0.2 m aside.
    CHECK(room::distance_to(*floor, {2.2, 2.45, 0}) == Approx(0.2));
    CHECK(room::distance_to(*floor, {2.2, 2.45, 0.3}) == Approx(std::hypot(0.2, 0.3)));
    CHECK(room::distance_to(*floor, {2.2, 3.45, 0.3}) == Approx(0.3));

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

TEST_CASE("a patch of three corners is met by the foot within it", "[room]") {
    Patch patch;
    patch.outlines = {{{0, 0, 0}, {2, 0, 0}, {0, 2, 0}}};
    CHECK(room::distance_to(patch, {0.5, 0.5, 1.5}) == Approx(1.5));
    CHECK(room::distance_to(patch, {0.5, -2, 0}) == Approx(2));
}
