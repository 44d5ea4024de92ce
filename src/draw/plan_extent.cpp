#include "plan_extent.hpp"

#include <algorithm>
#include <cmath>

#include "keyhour/site/plan_frame.hpp"

namespace keyhour::draw {
namespace {

/// Scales that a ruler has, and a few between.
constexpr double kScales[] = {10,  15,  20,  25,  30,  40,  50,   75,   100,  125,  150,
                              200, 250, 300, 400, 500, 750, 1000, 1500, 2000, 5000, 10000};

/// What stands outside widens the plan as long as the room does not shrink by more than this.
constexpr double kShrinks = 1.35, kShrinksOnPhone = 1.15;
/// Farther from the room than this, m, nothing does.
constexpr double kNear = 12;
/// Without a room: buildings within this of a spot, m.
constexpr double kAround = 12;

struct Bounds {
    Point2 least{1e300, 1e300}, most{-1e300, -1e300};
    void take(Point2 p) {
        least = {std::min(least.x, p.x), std::min(least.y, p.y)};
        most = {std::max(most.x, p.x), std::max(most.y, p.y)};
    }
    [[nodiscard]] double distance(Point2 p) const {
        return std::hypot(std::max({least.x - p.x, 0.0, p.x - most.x}),
                          std::max({least.y - p.y, 0.0, p.y - most.y}));
    }
};

bool is_narrow(const DrawingFrame& frame) {
    return frame.width_mm < 130;
}

/// Room for labels round the plan, and the tallest paper, mm.
struct Margins {
    double beside, above, below, tallest;
};
Margins margins_of(const DrawingFrame& frame) {
    return is_narrow(frame) ? Margins{9, 13, 16, 116}
                            : Margins{27, 22, 22, std::max(165.0, 0.6 * frame.width_mm)};
}

Point2 size_of(const Bounds& b) {
    return {std::max(b.most.x - b.least.x, 0.5), std::max(b.most.y - b.least.y, 0.5)};
}

/// The scale, 1 to this, at which all of it fits. A phone has no ruler: there any scale will do.
double scale_for(const Bounds& b, const DrawingFrame& frame) {
    const Margins m = margins_of(frame);
    const Point2 size = size_of(b);
    const double least = std::max(size.x / (frame.width_mm - 2 * m.beside),
                                  size.y / (m.tallest - m.above - m.below)) *
                         1000;
    if (is_narrow(frame)) return std::ceil(least);
    for (const double one_to : kScales)
        if (one_to >= least) return one_to;
    return std::ceil(least);
}

Bounds bounds_of(const site::Location& location, const DrawingFrame& frame) {
    Bounds b;
    if (location.room) {
        for (const Point2 p : outer_faces(*location.room))
            b.take(p);
        for (const room::Camera& c : location.room->cameras)
            b.take(c.at);
        const Bounds walls = b;
        std::vector<Point2> outside;
        for (const site::Lamp& lamp : location.lamps)
            if (lamp.at) outside.push_back(*lamp.at);
        for (const site::Spot& spot : location.spots)
            outside.push_back(site::on_plan(location, spot));
        const auto away = [&](Point2 p) { return walls.distance(p); };
        std::ranges::stable_sort(outside, {}, away);
        const double most =
            scale_for(walls, frame) * (is_narrow(frame) ? kShrinksOnPhone : kShrinks);
        for (const Point2 p : outside) {
            Bounds wider = b;
            wider.take(p);
            if (away(p) <= kNear && scale_for(wider, frame) <= most) b = wider;
        }
        return b;
    }
    for (const site::Spot& spot : location.spots)
        b.take(site::on_plan(location, spot));
    if (location.spots.empty()) b.take({0, 0});
    b.take(b.least - Point2{kAround, kAround});
    b.take(b.most + Point2{kAround, kAround});
    return b;
}

double distance_to_segment(Point2 p, Point2 a, Point2 b) {
    const Point2 d = b - a;
    const double t = dot(d, d) > 0 ? std::clamp(dot(p - a, d) / dot(d, d), 0.0, 1.0) : 0;
    return length(p - a - t * d);
}

}  // namespace

double wall_thickness(const room::Room& room, std::size_t wall) {
    double deepest = 0;
    for (const room::Window& w : room.windows)
        if (w.wall == wall) deepest = std::max(deepest, w.reveal_m);
    return deepest > 0 ? deepest : usual_wall_m;
}

room::Ring outer_faces(const room::Room& room) {
    const std::size_t n = room.floor.size();
    room::Ring out;
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t before = (i + n - 1) % n;
        const room::WallFrame a = wall_frame(room.floor, before), b = wall_frame(room.floor, i);
        const double ta = wall_thickness(room, before), tb = wall_thickness(room, i);
        // p = corner + x with x.na = ta and x.nb = tb; walls in line take the thicker one's face.
        const double turn = cross(a.n, b.n);
        if (std::abs(turn) < 0.05) {
            out.push_back(room.floor[i] + std::max(ta, tb) * b.n);
            continue;
        }
        out.push_back(room.floor[i] +
                      Point2{(ta * b.n.y - tb * a.n.y) / turn, (tb * a.n.x - ta * b.n.x) / turn});
    }
    return out;
}

std::vector<Point2> PlanExtent::at(const room::Ring& ring) const {
    std::vector<Point2> out;
    for (const Point2 p : ring)
        out.push_back(at(p));
    return out;
}

PlanExtent plan_extent(const site::Location& location, const DrawingFrame& frame) {
    const Bounds b = bounds_of(location, frame);
    const Margins m = margins_of(frame);
    PlanExtent extent;
    extent.one_to = scale_for(b, frame);
    const double k = extent.scale.mm_per_m = 1000 / extent.one_to;
    const double height =
        std::clamp(size_of(b).y * k + m.above + m.below, 0.5 * frame.width_mm, m.tallest);
    extent.paper = {0.5, 0.5, frame.width_mm - 0.5, height};
    const Point2 middle = 0.5 * (b.least + b.most);
    extent.scale.left_mm = frame.width_mm / 2 - k * middle.x;
    extent.scale.top_mm = (height + m.above - m.below) / 2 + k * middle.y;
    return extent;
}

std::vector<Point2> clipped(const std::vector<Point2>& ring, const Box& box) {
    std::vector<Point2> out = ring;
    const auto cut = [&](auto within) {  // positive inside
        std::vector<Point2> in;
        std::swap(in, out);
        for (std::size_t i = 0; i < in.size(); ++i) {
            const Point2 a = in[i], b = in[(i + 1) % in.size()];
            const double da = within(a), db = within(b);
            if (da >= 0) out.push_back(a);
            if ((da >= 0) != (db >= 0)) out.push_back(a + (da / (da - db)) * (b - a));
        }
    };
    cut([&](Point2 p) { return p.x - box.left; });
    cut([&](Point2 p) { return box.right - p.x; });
    cut([&](Point2 p) { return p.y - box.top; });
    cut([&](Point2 p) { return box.bottom - p.y; });
    return out;
}

Point2 centroid(const std::vector<Point2>& ring) {
    double area = 0;
    Point2 sum;
    if (ring.empty()) return sum;
    const Point2 o = ring.front();
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Point2 a = ring[i] - o, b = ring[(i + 1) % ring.size()] - o;
        area += cross(a, b);
        sum = sum + cross(a, b) * (a + b);
    }
    if (std::abs(area) < 1e-12) return o;
    return o + (1 / (3 * area)) * sum;
}

double distance_between(const room::Ring& a, const room::Ring& b) {
    double least = 1e300;
    for (const auto& [points, sides] : {std::pair{&a, &b}, std::pair{&b, &a}})
        for (const Point2 p : *points) {
            if (contains(*sides, p)) return 0;
            for (std::size_t i = 0; i < sides->size(); ++i)
                least = std::min(
                    least, distance_to_segment(p, (*sides)[i], (*sides)[(i + 1) % sides->size()]));
        }
    return least;
}

}  // namespace keyhour::draw
