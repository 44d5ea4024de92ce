// A lamp's light through a window, against rays followed one by one and against the sun's.

#include "keyhour/room/lamp_throw.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "keyhour/light/lamp.hpp"
#include "support/face.hpp"
#include "support/random_room.hpp"

using namespace keyhour;
using namespace keyhour::test;
using room::LampThrow;
using room::Patch;
using room::Scene;
using room::Surface;

namespace {

/// The stretch of a segment, as parameters 0..1, that lies between two heights; empty if none.
struct Stretch {
    double from = 0, to = 1;
    [[nodiscard]] bool is_empty() const { return from >= to; }
};

Stretch between_heights(Point3 a, Point3 b, double low, double high) {
    const double rise = b.z - a.z;
    if (std::abs(rise) < 1e-12) return a.z > low && a.z < high ? Stretch{} : Stretch{1, 0};
    double s = (low - a.z) / rise, t = (high - a.z) / rise;
    if (s > t) std::swap(s, t);
    return {std::max(0.0, s), std::min(1.0, t)};
}

bool cross_on_plan(Point2 a, Point2 b, Point2 c, Point2 d) {
    return cross(b - a, c - a) * cross(b - a, d - a) < 0 &&
           cross(d - c, a - c) * cross(d - c, b - c) < 0;
}

/// Does the segment pass through the inside of a prism?
bool meets_prism(Point3 a, Point3 b, const Ring& print, double low, double high) {
    const Stretch s = between_heights(a, b, low, high);
    if (s.is_empty()) return false;
    const Point3 p = a + s.from * (b - a), q = a + s.to * (b - a);
    const Point2 from{p.x, p.y}, to{q.x, q.y};
    if (room::contains(print, 0.5 * (from + to))) return true;
    for (std::size_t i = 0; i < print.size(); ++i)
        if (cross_on_plan(from, to, print[i], print[(i + 1) % print.size()])) return true;
    return false;
}

/// Follows one ray from a point inside to the lamp.
class OneRay {
public:
    OneRay(const Room& r, std::size_t window, Point3 lamp)
        : room_{r}, w_{r.windows[window]}, f_{room::wall_frame(r.floor, w_.wall)}, lamp_{lamp} {}

    [[nodiscard]] bool reaches(Point3 p) const {
        const double wp = out(p), wl = out(lamp_);
        if (wp >= -1e-7 || wl <= w_.reveal_m) return false;
        const double inner = -wp / (wl - wp), outer = (w_.reveal_m - wp) / (wl - wp);
        const double bars = (w_.reveal_m - w_.bars.set_back_m - wp) / (wl - wp);
        const auto at = [&](double t) { return p + t * (lamp_ - p); };
        if (!in_opening(at(inner)) || !in_opening(at(outer)) || on_bar(at(bars))) return false;
        return !blocked_inside(at(1e-7), at(inner - 1e-9)) &&
               !blocked_outside(at(outer + 1e-9), lamp_);
    }

private:
    [[nodiscard]] double out(Point3 p) const {
        return dot(Point2{p.x, p.y} - f_.left_corner, f_.n);
    }
    [[nodiscard]] double along(Point3 p) const {
        return dot(Point2{p.x, p.y} - f_.left_corner, f_.u) - w_.left_m;
    }
    [[nodiscard]] bool in_opening(Point3 p) const {
        const double u = along(p), z = p.z - w_.sill_m;
        return u > 0 && u < w_.width_m && z > 0 && z < w_.height_m;
    }
    static bool hits_bar(double x, double size, int bars, double width) {
        const double pane = (size - bars * width) / (bars + 1);
        for (int i = 0; i < bars; ++i) {
            const double from = (i + 1) * pane + i * width;
            if (x > from && x < from + width) return true;
        }
        return false;
    }
    [[nodiscard]] bool on_bar(Point3 p) const {
        return hits_bar(along(p), w_.width_m, w_.bars.upright, w_.bars.width_m) ||
               hits_bar(p.z - w_.sill_m, w_.height_m, w_.bars.level, w_.bars.width_m);
    }
    [[nodiscard]] bool blocked_inside(Point3 a, Point3 b) const {
        for (const room::Object& o : room_.objects)
            if (meets_prism(a, b, o.footprint, 0, o.height_m)) return true;
        for (std::size_t i = 0; i < room_.floor.size(); ++i)
            if (i != w_.wall && cross_on_plan({a.x, a.y}, {b.x, b.y}, room_.floor[i],
                                              room_.floor[(i + 1) % room_.floor.size()]))
                return true;
        return false;
    }
    [[nodiscard]] bool blocked_outside(Point3 a, Point3 b) const {
        const double ground = -room_.floor_above_ground_m;
        for (const Building& building : room_.buildings)
            if (meets_prism(a, b, building.footprint, ground, ground + building.height_m))
                return true;
        return meets_prism(a, b, room_.floor, ground, room_.height_m);
    }

    const Room& room_;
    const Window& w_;
    room::WallFrame f_;
    Point3 lamp_;
};

/// A lamp somewhere before a window.
Point3 random_lamp(Dice& dice, const Room& r, std::size_t window) {
    const Window& w = r.windows[window];
    const room::WallFrame f = room::wall_frame(r.floor, w.wall);
    const double away = w.reveal_m + dice.between(0.3, 12);
    const Point2 at =
        f.left_corner + (w.left_m + w.width_m * dice.between(-1.5, 2.5)) * f.u + away * f.n;
    return {at.x, at.y, dice.between(-0.5, 6)};
}

bool is_of(const Face& face, const Surface& surface) {
    if (face.part == Part::floor) return surface.kind == Surface::Kind::floor && face.normal.z > 0;
    const auto kind = face.part == Part::wall ? Surface::Kind::wall : Surface::Kind::object;
    return surface.kind == kind && surface.index == face.index;
}

/// Floor, walls, objects and, looking down, the ceiling.
std::vector<Face> all_faces(const Room& r) {
    std::vector<Face> faces = faces_of(r);
    Face ceiling = level_face(Part::floor, 0, r.floor, r.height_m);
    ceiling.up = {0, -1, 0};
    ceiling.normal = {0, 0, -1};
    for (Point2& p : ceiling.outline)
        p.y = -p.y;
    ceiling.outline = counter_clockwise(ceiling.outline);
    faces.push_back(ceiling);
    return faces;
}

std::vector<Ring> rings_on(const Face& face, const std::vector<Patch>& patches,
                           const std::optional<Patch>& on_ceiling) {
    std::vector<Ring> rings;
    if (face.part == Part::floor && face.normal.z < 0 && on_ceiling)
        for (const auto& ring : on_ceiling->outlines)
            rings.push_back(flattened(face, ring));
    for (const Patch& patch : patches)
        if (is_of(face, patch.surface))
            for (const auto& ring : patch.outlines)
                if (off_plane(face, ring) < 1e-5) rings.push_back(flattened(face, ring));
    return rings;
}

double area_on(const std::vector<Patch>& patches, Surface surface) {
    for (const Patch& p : patches)
        if (p.surface == surface) return p.area_m2;
    return 0;
}

/// A plain room, 6 x 5 x 3 m, one window 1.2 x 1.5 m in the middle of the wall y = 0.
Room plain_room(double reveal_m = 0) {
    Room r;
    r.floor = {{0, 0}, {6, 0}, {6, 5}, {0, 5}};
    r.walls = {"window", "right", "back", "left"};
    r.height_m = 3;
    Window w;
    w.left_m = 2.4;
    w.width_m = 1.2;
    w.sill_m = 0.75;
    w.height_m = 1.5;
    w.reveal_m = reveal_m;
    r.windows = {w};
    r.marks = {{"mark", {3, 2.5}, 1.5, 0.15, {}}};
    return r;
}

constexpr Surface back_wall{Surface::Kind::wall, 2};

}  // namespace

namespace {

/// A point of the face's outline or about it: any, or where a ray through the opening lands.
/// @return nothing where such a ray runs along the face
std::optional<Point2> point_on(Dice& dice, const Room& r, std::size_t w, Point3 lamp,
                               const Face& face, bool in_beam) {
    if (!in_beam) {
        const Point2 a = face.outline[dice.index(face.outline.size())];
        const Point2 b = face.outline[dice.index(face.outline.size())];
        const Point2 c = face.outline[dice.index(face.outline.size())];
        const double s = dice.unit(), t = dice.unit();
        return a + s * (b - a) + s * t * (c - b);
    }
    const double up = dice.unit(), across = dice.unit();
    const Point3 through = in_the_beam(r, r.windows[w], {}, across, up, 0);
    const Point3 d = through - lamp;
    const double down = dot(d, face.normal);
    if (std::abs(down) < 1e-9) return std::nullopt;
    return face.flat(lamp + (-face.height_over(lamp) / down) * d);
}

struct Points {
    long looked_at = 0, lit = 0, on_ceiling = 0;
};

/// Rays against outlines at some points of a face.
void compare_rays(Dice& dice, const Room& r, std::size_t w, const OneRay& ray, Point3 lamp,
                  const Face& face, const std::vector<Ring>& rings, Points& points) {
    const auto reaches = [&](Point2 p) {
        return face.height_over(lamp) > 1e-4 && ray.reaches(face.at(p) + 1e-6 * face.normal);
    };
    for (int k = 0; k < 60; ++k) {
        const auto at = point_on(dice, r, w, lamp, face, k % 2 == 1);
        if (!at) continue;
        const Point2 p = *at;
        if (!inside({face.outline}, p) || distance_to_edges({face.outline}, p) < 1e-3) continue;
        ++points.looked_at;
        const bool by_ray = reaches(p), by_outline = inside(rings, p);
        if (by_ray) ++points.lit;
        if (by_ray && face.normal.z < 0) ++points.on_ceiling;
        if (by_ray == by_outline || distance_to_edges(rings, p) < 1e-3) continue;
        // A patch below 1 cm2 is left out: then the ray's light ends within a centimetre.
        bool flips = false;
        for (int i = 0; i < 400 && !flips; ++i) {
            const double away = 0.01 * (i + 1) / 400, turn = dice.between(0, 6.3);
            flips = reaches(p + Point2{away * std::cos(turn), away * std::sin(turn)}) != by_ray;
        }
        const Point3 there = face.at(p);
        CAPTURE(w, lamp.x, lamp.y, lamp.z, there.x, there.y, there.z, by_ray, by_outline);
        CHECK(flips);
    }
}

}  // namespace

TEST_CASE("a lamp's patches in random rooms are those of single rays", "[room][lamp]") {
    Points points;
    for (unsigned n = 0; n < 120; ++n) {
        Dice dice{31000u + n};
        Room r = random_room(dice);
        const Scene scene{r};
        const auto faces = all_faces(r);
        CAPTURE(n);
        for (std::size_t w = 0; w < r.windows.size(); ++w) {
            const Point3 lamp = random_lamp(dice, r, w);
            const LampThrow light{scene, w, lamp};
            const auto patches = light.patches(0.3);
            const auto ceiling = light.on_ceiling(0.3);
            if (ceiling) CHECK(ceiling->area_m2 > 0);
            const OneRay ray{r, w, lamp};
            for (const Face& face : faces)
                if (!face.against_a_wall)
                    compare_rays(dice, r, w, ray, lamp, face, rings_on(face, patches, ceiling),
                                 points);
        }
    }
    CHECK(points.looked_at > 20000);
    CHECK(points.lit > 1000);
    CHECK(points.on_ceiling > 20);
}

namespace {

/// Along a ray from the lamp to where it enters a box; nothing where it misses.
std::optional<double> into_box(const Mark& mark, Point3 lamp, Point3 along) {
    const double from[3] = {lamp.x - mark.at.x, lamp.y - mark.at.y, lamp.z - mark.height_m};
    const double step[3] = {along.x, along.y, along.z};
    double in = 0, out = 1e9;
    for (std::size_t axis = 0; axis < 3; ++axis) {
        const double half = (*mark.box_m)[axis] / 2;
        const double a = (-half - from[axis]) / step[axis], b = (half - from[axis]) / step[axis];
        in = std::max(in, std::min(a, b));
        out = std::min(out, std::max(a, b));
    }
    if (in >= out) return std::nullopt;
    return in;
}

struct Rays {
    int hit = 0, lit = 0;
};

/// Through cells of a square about the mark as the lamp sees it, at random within each.
Rays rays_at(Dice& dice, const OneRay& ray, const Mark& mark, Point3 lamp) {
    const Point3 to = Point3{mark.at.x, mark.at.y, mark.height_m} - lamp;
    const double far = std::sqrt(dot(to, to));
    const Point3 ahead = (1 / far) * to;
    const double level = std::hypot(ahead.x, ahead.y);
    const Point3 right{-ahead.y / level, ahead.x / level, 0};
    const Point3 up{-ahead.x * ahead.z / level, -ahead.y * ahead.z / level, level};
    const double reach = std::tan(std::asin(half_size(mark) / far));
    constexpr int side = 50;
    Rays rays;
    for (int i = 0; i < side; ++i)
        for (int k = 0; k < side; ++k) {
            const double x = reach * (2 * (i + dice.unit()) / side - 1);
            const double y = reach * (2 * (k + dice.unit()) / side - 1);
            const Point3 along = ahead + x * right + y * up;
            double t = far;  // to the plane through a sphere's middle
            if (mark.box_m) {
                const auto in = into_box(mark, lamp, along);
                if (!in) continue;
                t = *in;
            } else if (x * x + y * y > reach * reach) {
                continue;
            }
            ++rays.hit;
            if (ray.reaches(lamp + (t - 1e-7) * along)) ++rays.lit;
        }
    return rays;
}

/// @return is it lit in part?
bool check_share(const LampThrow& lamp, std::size_t m, const Rays& rays) {
    const double share = static_cast<double>(rays.lit) / rays.hit;
    // One cell along the edge of light either way: 2 x 50 of the rays at most, and random within
    // it.
    CHECK(lamp.coverage(m) == Approx(share).margin(0.03));
    double lost = 0;
    for (const room::Loss& loss : lamp.losses(m))
        lost = std::max(lost, loss.fraction);
    if (share < 0.5) CHECK(lost > 0.02);
    if (share > 0.999) CHECK(lost < 0.03);
    return share > 0.02 && share < 0.98;
}

}  // namespace

TEST_CASE("a lamp covers the share of a mark that single rays find", "[room][lamp]") {
    int partly = 0;
    for (unsigned n = 0; n < 80; ++n) {
        Dice dice{32000u + n};
        Room r = random_room(dice);
        std::vector<Point3> lamps;
        for (std::size_t w = 0; w < r.windows.size(); ++w)
            lamps.push_back(random_lamp(dice, r, w));
        const Point3 middle = in_the_beam(r, r.windows[0], {}, 0.5, 0.5, 0);
        const Point3 d = lamps[0] - middle;
        add_marks(dice, r, 3, {(1 / std::sqrt(dot(d, d))) * d});
        const Scene scene{r};
        for (std::size_t w = 0; w < r.windows.size(); ++w)
            for (std::size_t m = 0; m < r.marks.size(); ++m) {
                const Rays rays = rays_at(dice, OneRay{r, w, lamps[w]}, r.marks[m], lamps[w]);
                if (rays.hit < 100) continue;
                CAPTURE(n, w, m, r.marks[m].box_m.has_value(), rays.hit);
                if (check_share(LampThrow{scene, w, lamps[w]}, m, rays)) ++partly;
            }
    }
    CHECK(partly > 20);
}

TEST_CASE("a lamp at 10 km throws the sun's patches and covers what the sun covers",
          "[room][lamp]") {
    int compared = 0, covered = 0;
    for (unsigned n = 0; n < 60; ++n) {
        Dice dice{33000u + n};
        Room r = random_room(dice);
        r.buildings.clear();  // they could stand behind a lamp of few metres only
        const Point3 sun = random_sun(dice, r);
        add_marks(dice, r, 3, {sun});
        const Scene scene{r};
        for (std::size_t w = 0; w < r.windows.size(); ++w) {
            const Point3 middle = in_the_beam(r, r.windows[w], sun, 0.5, 0.5, 0);
            const LampThrow lamp{scene, w, middle + 10000.0 * sun};
            const auto by_sun = scene.patches(w, sun);
            const auto by_lamp = lamp.patches(0);
            for (const Patch& p : by_sun) {
                if (scene.in_front(w, sun) < 0.02 || sun.z < 0.02) continue;  // it grazes
                ++compared;
                CAPTURE(n, w);
                // To a thousandth, and 3 mm of its outline: a ray 10 km long leans 1e-4 over 1 m.
                CHECK(area_on(by_lamp, p.surface) ==
                      Approx(p.area_m2).epsilon(1e-3).margin(
                          2e-3 / std::min(scene.in_front(w, sun), sun.z)));
            }
            for (std::size_t m = 0; m < r.marks.size(); ++m) {
                CAPTURE(n, w, m);
                const double share = scene.coverage(m, w, sun);
                if (share > 0.01 && share < 0.99) ++covered;
                CHECK(lamp.coverage(m) == Approx(share).margin(5e-3));
            }
        }
    }
    CHECK(compared > 100);
    CHECK(covered > 10);
}

TEST_CASE("a lamp's soft edge is thrown by the outer edge of the reveal", "[room][lamp]") {
    Room r = plain_room();
    r.windows[0].reveal_m = 0.4;
    const Scene scene{r};
    const LampThrow lamp{scene, 0, {3, -4, 1.5}};
    int on_back_wall = 0;
    for (const Patch& p : lamp.patches(0.5))
        if (p.surface == back_wall) {
            ++on_back_wall;
            // 3.6 m from lamp to the outer edge, 5.4 m on to the back wall; plain_room is 5 m deep.
            CHECK(p.edge_width_m == Approx(light::soft_edge_m(0.5, 3.6, 5.4)));
        }
    CHECK(on_back_wall == 1);
}

TEST_CASE("before the middle of a window the patch grows as similar triangles say",
          "[room][lamp]") {
    const Room r = plain_room();
    const Scene scene{r};
    for (const double away : {2.0, 5.0, 12.0}) {
        const LampThrow lamp{scene, 0, {3, -away, 1.5}};
        const auto patches = lamp.patches(0.5);
        const double growth = light::patch_growth(away, 5);
        // Cut off at floor and ceiling, and at the side walls, 3 m off the middle.
        const double width = std::min(1.2 * growth, 6.0), height = std::min(1.5 * growth, 3.0);
        CHECK(area_on(patches, back_wall) == Approx(width * height).epsilon(1e-6));
        for (const Patch& p : patches)
            if (p.surface == back_wall) {
                CHECK(p.edge_width_m == Approx(light::soft_edge_m(0.5, away, 5)));
                CHECK(p.centroid.x == Approx(3));
            }
        CHECK(lamp.open_share() == Approx(1));
        CHECK(lamp.coverage(0) == Approx(1));
    }
    // The sun's patch, square on, is the opening itself: nothing grows.
    CHECK(area_on(LampThrow{scene, 0, {3, -1e6, 1.5}}.patches(0), back_wall) ==
          Approx(1.2 * 1.5).epsilon(1e-4));
}

TEST_CASE("light enters no faster than the opening's solid angle allows", "[room][lamp]") {
    // A rectangle a x b seen from a distance d over its middle: solid angle
    // 4 atan(ab / (2 d sqrt(4 d2 + a2 + b2))). Closed form, standard geometry.
    const Scene scene{plain_room()};
    const double a = 1.2, b = 1.5, d = 4;
    double sum = 0;
    for (const room::ThrownPart& part : LampThrow{scene, 0, {3, -d, 1.5}}.parts(24, 24)) {
        sum += part.solid_angle_sr;
        CHECK(std::sqrt(dot(part.toward, part.toward)) == Approx(1));
        CHECK(part.toward.y > 0);
    }
    CHECK(sum == Approx(4 * std::atan(a * b / (2 * d * std::sqrt(4 * d * d + a * a + b * b))))
                     .epsilon(1e-4));
}

TEST_CASE("a lamp beside the wall, in it or behind it throws nothing", "[room][lamp]") {
    const Scene scene{plain_room(0.3)};
    for (const Point3 at : {Point3{3, 0.5, 1.5}, Point3{3, -0.2, 1.5}, Point3{3, -0.3, 1.5},
                            Point3{9, -0.31, 1.5}, Point3{3, 2.5, 1.5}}) {
        const LampThrow lamp{scene, 0, at};
        CAPTURE(at.x, at.y);
        CHECK_FALSE(lamp.enters());
        CHECK(lamp.patches(0.2).empty());
        CHECK(lamp.coverage(0) == 0);
        CHECK(lamp.open_share() == 0);
        CHECK(lamp.parts(4, 4).empty());
    }
    const auto losses = LampThrow{scene, 0, {9, 1, 1.5}}.losses(0);
    REQUIRE(losses.size() == 1);
    CHECK(losses[0].fraction == 1);
}

TEST_CASE("a building is in the way only where it stands before the lamp", "[room][lamp]") {
    Room r = plain_room(0.2);
    r.buildings = {{"shed", {{-4, -9}, {10, -9}, {10, -7}, {-4, -7}}, 6, {}}};
    const Scene scene{r};
    CHECK(LampThrow{scene, 0, {3, -6, 1.7}}.coverage(0) == Approx(1));
    const LampThrow behind{scene, 0, {3, -12, 1.7}};
    CHECK(behind.coverage(0) == 0);
    const auto losses = behind.losses(0);
    REQUIRE(losses.size() == 1);
    CHECK(losses[0].edge == room::LimitingEdge{room::Edge::building, 0});
    CHECK(losses[0].fraction == Approx(1));
}
