// What each edge takes of a mark, of the sun's light and of a lamp's: the part of its silhouette on
// the far side of the plane through that edge and the source.

#include <catch2/catch.hpp>

#include "keyhour/room/lamp_throw.hpp"
#include "paper_room.hpp"
#include "random_case.hpp"
#include "region_points.hpp"

using namespace keyhour;
using namespace keyhour::test;
using room::Edge;
using room::LampThrow;
using room::LimitingEdge;
using room::Loss;
using room::Scene;

namespace {

/// The sun in a direction, or a lamp at a point.
struct Source {
    Point3 at;
    bool is_lamp = false;
    [[nodiscard]] Point3 from(Point3 p) const { return is_lamp ? at - p : at; }
};

struct Line {
    Point3 through, along;
};
constexpr Point3 upright{0, 0, 1}, level{1, 0, 0};

Point3 square_to(Point3 a, Point3 b) {
    return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
double norm_of(Point3 p) {
    return std::sqrt(dot(p, p));
}

/// The plane through a line and the source; positive on the side of `free`.
class Plane {
public:
    Plane(const Line& line, const Source& source, Point3 free) : through_{line.through} {
        const Point3 n = square_to(line.along, source.from(line.through));
        normal_ = (1 / norm_of(n)) * n;
        if (dot(free - through_, normal_) < 0) normal_ = -1 * normal_;
    }
    [[nodiscard]] double height(Point3 p) const { return dot(p - through_, normal_); }

private:
    Point3 through_, normal_;
};

/// Of a disc of radius 1, the share within a chord so far from its middle.
double share_within(double c) {
    c = std::clamp(c, -1.0, 1.0);
    return (c * std::sqrt(1 - c * c) + std::asin(c) + std::numbers::pi / 2) / std::numbers::pi;
}

/// Of a mark's silhouette, what lies on the free side of all the planes: a sphere's is exact for
/// planes through parallel lines, a box's is counted by points of the faces that the source sees.
double share_before(const Mark& m, const Source& source, const std::vector<Plane>& planes) {
    const Point3 centre{m.at.x, m.at.y, m.height_m};
    if (!m.box_m) {
        double least = 1e9;
        for (const Plane& plane : planes)
            least = std::min(least, plane.height(centre));
        if (!source.is_lamp) return share_within(least / m.radius_m);
        const double far = norm_of(source.from(centre));
        return share_within(std::tan(std::asin(least / far)) /
                            std::tan(std::asin(m.radius_m / far)));
    }
    const Point3 axes[] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    const auto& size = *m.box_m;
    double free = 0, whole = 0;
    for (std::size_t i = 0; i < 3; ++i)
        for (const double side : {-0.5, 0.5}) {
            const std::size_t j = (i + 1) % 3, k = (i + 2) % 3;
            constexpr int each_way = 40;
            for (int a = 0; a < each_way; ++a)
                for (int b = 0; b < each_way; ++b) {
                    const Point3 p = centre + side * size[i] * axes[i] +
                                     ((a + 0.5) / each_way - 0.5) * size[j] * axes[j] +
                                     ((b + 0.5) / each_way - 0.5) * size[k] * axes[k];
                    const Point3 way = source.from(p);
                    const double facing = 2 * side * dot(way, axes[i]);
                    if (facing <= 0) continue;
                    // Seen from a lamp, the square of the distance counts, and what leans off the
                    // line of sight is stretched in the plane square to it.
                    const Point3 to = source.from(centre);
                    const double ahead = dot(way, to) / norm_of(to);
                    const double seen =
                        size[j] * size[k] * facing * (source.is_lamp ? std::pow(ahead, -3) : 1);
                    whole += seen;
                    bool is_free = true;
                    for (const Plane& plane : planes)
                        is_free = is_free && plane.height(p) > 0;
                    free += is_free ? seen : 0;
                }
        }
    return free / whole;
}

double fraction_of(const std::vector<Loss>& losses, LimitingEdge edge) {
    double sum = 0;
    for (const Loss& loss : losses)
        if (loss.edge == edge) sum += loss.fraction;
    return sum;
}

/// The planes of one of the opening's edges, at its inner and its outer face.
std::vector<Plane> planes_of(const Room& r, Edge edge, const Source& source) {
    const Window& w = r.windows[0];
    const double x1 = 8 - w.left_m, x0 = x1 - w.width_m;
    std::vector<Plane> planes;
    for (const double y : {0.0, -w.reveal_m}) {
        const Point3 middle{(x0 + x1) / 2, y, w.sill_m + w.height_m / 2};
        const Point3 at{edge == Edge::left_jamb ? x1 : x0, y,
                        edge == Edge::head ? w.sill_m + w.height_m : w.sill_m};
        const bool is_jamb = edge == Edge::left_jamb || edge == Edge::right_jamb;
        planes.emplace_back(Line{at, is_jamb ? upright : level}, source, middle);
    }
    return planes;
}

Mark random_mark(Dice& dice) {
    Mark m{"mark",
           {dice.between(2.5, 5.5), dice.between(1, 5)},
           dice.between(0.5, 2),
           dice.between(0.05, 0.35),
           {}};
    if (dice.chance(0.5))
        m.box_m = {dice.between(0.1, 0.8), dice.between(0.1, 0.8), dice.between(0.1, 0.8)};
    return m;
}

/// In line with the mark and a spot of the window's wall, in or beside the opening.
Source random_source(Dice& dice, const Room& r, bool is_lamp) {
    const Mark& m = r.marks[0];
    const double x = dice.between(2.6, 5.4), z = dice.between(0.7, 2.8);
    const Point3 way =
        Point3{x, 0, std::max(z, m.height_m + 0.05)} - Point3{m.at.x, m.at.y, m.height_m};
    if (!is_lamp) return {(1 / norm_of(way)) * way, false};
    const double away = 1 + (r.windows[0].reveal_m + dice.between(0.5, 8)) / m.at.y;
    return {Point3{m.at.x, m.at.y, m.height_m} + away * way, true};
}

std::vector<Loss> losses_of(const Room& r, const Source& source) {
    const Scene scene{r};
    return source.is_lamp ? LampThrow{scene, 0, source.at}.losses(0)
                          : scene.losses(0, 0, source.at);
}
double coverage_of(const Room& r, const Source& source) {
    const Scene scene{r};
    return source.is_lamp ? LampThrow{scene, 0, source.at}.coverage(0)
                          : scene.coverage(0, 0, source.at);
}

constexpr Edge opening_edges[] = {Edge::left_jamb, Edge::right_jamb, Edge::sill, Edge::head};

/// Points of a box lie on either side of a plane by rows of 40.
double tolerance(const Mark& m) {
    return m.box_m ? 0.02 : 1e-6;
}

}  // namespace

TEST_CASE("an opening's edges take of a mark what lies beyond the plane through edge and source",
          "[room][lamp]") {
    int cut = 0, single = 0;
    for (unsigned n = 0; n < 240; ++n) {
        Dice dice{81000 + n};
        Room r = paper_room(n % 3 == 0 ? 0 : dice.between(0.05, 0.8));
        r.marks = {random_mark(dice)};
        const Source source = random_source(dice, r, n % 2 == 1);
        const auto losses = losses_of(r, source);
        const Mark& m = r.marks[0];
        CAPTURE(n, m.box_m.has_value(), source.is_lamp, r.windows[0].reveal_m);
        int edges = 0;
        double last = 0;
        for (const Edge edge : opening_edges) {
            const double lost = 1 - share_before(m, source, planes_of(r, edge, source));
            CAPTURE(static_cast<int>(edge), lost);
            CHECK(fraction_of(losses, {edge, 0}) == Approx(lost).margin(tolerance(m)));
            if (lost == 0) continue;
            ++edges;
            last = lost;
            cut += lost > 0.02 && lost < 0.98 ? 1 : 0;
        }
        for (const Loss& loss : losses) {
            CHECK(std::ranges::count(losses, loss.edge, &Loss::edge) == 1);
            CHECK(loss.fraction > 0);
            CHECK(loss.edge.kind != Edge::bar);
        }
        if (edges > 1) continue;
        CHECK(coverage_of(r, source) == Approx(1 - last).margin(tolerance(m)));
        ++single;
    }
    CHECK(cut > 60);
    CHECK(single > 60);
}

TEST_CASE("a bar takes of a mark the strip between the planes through its sides", "[room][lamp]") {
    int cut = 0;
    for (unsigned n = 0; n < 240; ++n) {
        Dice dice{82000 + n};
        Room r = paper_room(0.3);
        r.marks = {random_mark(dice)};
        const bool is_upright = dice.chance(0.5);
        const double wide = dice.between(0.02, 0.2);
        r.windows[0].bars = {is_upright ? 1 : 0, is_upright ? 0 : 1, wide, dice.between(0, 0.3)};
        const Source source = random_source(dice, r, n % 2 == 1);
        const Mark& m = r.marks[0];
        bool is_within = true;
        for (const Edge edge : opening_edges)
            is_within = is_within && share_before(m, source, planes_of(r, edge, source)) == 1;
        if (!is_within) continue;
        const double y = -(0.3 - r.windows[0].bars.set_back_m);
        const Point3 middle{4, y, 1.75};  // of bar and opening
        const Point3 half = is_upright ? Point3{wide / 2, 0, 0} : Point3{0, 0, wide / 2};
        const Point3 along = is_upright ? upright : level;
        const Plane one{{middle + half, along}, source, middle};
        const Plane other{{middle - half, along}, source, middle};
        // What lies on the bar's side of one plane, less what lies beyond the other.
        const double lost = share_before(m, source, {one}) + share_before(m, source, {other}) - 1;
        CAPTURE(n, m.box_m.has_value(), source.is_lamp, is_upright);
        CHECK(fraction_of(losses_of(r, source), {Edge::bar, 0}) ==
              Approx(lost).margin(tolerance(m)));
        CHECK(coverage_of(r, source) == Approx(1 - lost).margin(tolerance(m)));
        cut += lost > 0.02 && lost < 0.98 ? 1 : 0;
    }
    CHECK(cut > 8);
}

TEST_CASE("what stands before a mark takes what lies below its top, its pieces counted once",
          "[room][lamp]") {
    int cut = 0;
    for (unsigned n = 0; n < 200; ++n) {
        Dice dice{83000 + n};
        Room r = paper_room(0);
        r.windows[0].left_m = 0;  // the whole wall
        r.windows[0].width_m = 8;
        r.windows[0].sill_m = 0;
        r.windows[0].height_m = 4;
        r.marks = {random_mark(dice)};
        Mark& m = r.marks[0];
        m.at.y = dice.between(2.5, 4.5);
        const Source source = random_source(dice, r, n % 2 == 1);
        const bool is_inside = n % 4 < 2;
        // An L across the whole width: the leg lies behind its front, seen from the mark.
        const double y = is_inside ? dice.between(1.2, 1.8) : -dice.between(0.2, 1);
        const double back = is_inside ? y - 1 : y - 0.2;
        const double left = is_inside ? 0.01 : -40, right = is_inside ? 7.99 : 48;
        const Ring ell{{left, y},   {left, back - 0.1}, {4.1, back - 0.1},
                       {4.1, back}, {right, back},      {right, y}};
        const Point3 way = source.from({m.at.x, m.at.y, m.height_m});
        const double passes = m.height_m + (m.at.y - y) / std::abs(way.y) * way.z;
        const double top = passes + dice.between(-0.3, 0.3);
        if (is_inside && top > 3.9) continue;
        if (source.is_lamp && source.at.y > back - 0.1) continue;
        LimitingEdge edge{Edge::object, 0};
        if (is_inside) {
            r.objects = {{"counter", ell, top}};
        } else {
            r.buildings = {{"wall", ell, top, {}}};
            edge.kind = Edge::building;
        }
        std::vector<Plane> planes;
        for (const double at : {y, back})
            planes.emplace_back(Line{{4, at, top}, level}, source, Point3{4, at, top + 1});
        const double lost = 1 - share_before(m, source, planes);
        CAPTURE(n, m.box_m.has_value(), source.is_lamp, is_inside, top - passes);
        CHECK(fraction_of(losses_of(r, source), edge) == Approx(lost).margin(tolerance(m)));
        CHECK(coverage_of(r, source) == Approx(1 - lost).margin(tolerance(m)));
        cut += lost > 0.02 && lost < 0.98 ? 1 : 0;
    }
    CHECK(cut > 40);
}
