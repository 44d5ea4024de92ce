#include "keyhour/study/ground.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <polyclipping/clipper.hpp>

#include "room/convex.hpp"

namespace keyhour::study {
namespace {

using room::Convex;
using room::Point2;
using room::Point3;
using room::Ring;

constexpr double per_m = 1e6;
constexpr double smallest_m2 = 1e-4;
constexpr Seconds ground_stride{60};

/// Everything inside any of the outlines; holes are filled.
std::vector<Ring> together(const std::vector<Ring>& rings) {
    ClipperLib::Clipper clipper;
    for (const Ring& ring : rings) {
        ClipperLib::Path path;
        for (const Point2 p : ring)
            path.emplace_back(std::llround(p.x * per_m), std::llround(p.y * per_m));
        if (!ClipperLib::Orientation(path)) ClipperLib::ReversePath(path);
        clipper.AddPath(path, ClipperLib::ptSubject, true);
    }
    ClipperLib::Paths united;
    clipper.Execute(ClipperLib::ctUnion, united, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
    std::vector<Ring> out;
    for (const ClipperLib::Path& path : united) {
        Ring& ring = out.emplace_back();
        for (const auto& p : path)
            ring.push_back({static_cast<double>(p.X) / per_m, static_cast<double>(p.Y) / per_m});
        if (room::signed_area(ring) < smallest_m2) out.pop_back();  // a hole's is negative
    }
    return out;
}

Ring ring_of(const Convex& c) {
    Ring out;
    for (int i = 0; i < c.n; ++i)
        out.push_back({c.x[i], c.y[i]});
    return out;
}

/// Points whose hull holds the mark as seen from the sun.
std::vector<Point3> outline_of(const room::Mark& mark, Point3 toward) {
    std::vector<Point3> out;
    if (mark.box_m) {
        const auto& size = *mark.box_m;
        for (const double x : {-0.5, 0.5})
            for (const double y : {-0.5, 0.5})
                for (const double z : {-0.5, 0.5})
                    out.push_back({mark.at.x + x * size[0], mark.at.y + y * size[1],
                                   mark.height_m + z * size[2]});
        return out;
    }
    // The disc that faces the sun, as the polygon around it: never too small.
    constexpr int corners = 16;
    const double level = std::hypot(toward.x, toward.y);
    const Point3 side{-toward.y / level, toward.x / level, 0};
    const Point3 up{-toward.z * side.y, toward.z * side.x, level};
    const double r = mark.radius_m / std::cos(std::numbers::pi / corners);
    for (int i = 0; i < corners; ++i) {
        const double a = 2 * std::numbers::pi * i / corners;
        out.push_back(Point3{mark.at.x, mark.at.y, mark.height_m} + r * std::cos(a) * side +
                      r * std::sin(a) * up);
    }
    return out;
}

/// The rays of one instant.
class Beam {
public:
    Beam(const room::Room& room, const room::Window& window, const room::Mark& mark, Point3 toward)
        : frame_{room::wall_frame(room.floor, window.wall)},
          outer_m_{window.reveal_m},
          ground_m_{-room.floor_above_ground_m},
          toward_{toward} {
        const double out = dot(Point2{toward.x, toward.y}, frame_.n);
        if (out <= 1e-6 || toward.z <= 0) return;
        std::vector<Point2> met;  // the wall's outer face: u, z
        for (const Point3& p : outline_of(mark, toward)) {
            const Point2 from = Point2{p.x, p.y} - frame_.left_corner;
            const double way = (outer_m_ - dot(from, frame_.n)) / out;
            const Point2 there = from + way * Point2{toward.x, toward.y};
            met.push_back({dot(there, frame_.u), p.z + way * toward.z});
        }
        const room::Box2 opening{window.left_m, window.left_m + window.width_m, window.sill_m,
                                 window.sill_m + window.height_m};
        on_wall_ = room::clip(room::hull(met.data(), static_cast<int>(met.size())), opening);
    }

    [[nodiscard]] double lowest_m() const {
        double lowest = 1e9;
        for (int i = 0; i < on_wall_.n; ++i)
            lowest = std::min(lowest, on_wall_.y[i] - ground_m_);
        return lowest;
    }

    /// Ground under its rays from the wall to where they have risen to a height; may be empty.
    [[nodiscard]] Convex ground(double height_m) const {
        const double top = ground_m_ + height_m;
        const Convex low = room::clip(on_wall_, 0, 1, top);
        std::vector<Point2> points;
        for (int i = 0; i < low.n; ++i) {
            const Point2 foot = frame_.left_corner + low.x[i] * frame_.u + outer_m_ * frame_.n;
            const double way = (top - low.y[i]) / toward_.z;
            const double level = way * std::hypot(toward_.x, toward_.y);
            const double kept = level > clear_ground_reach_m ? clear_ground_reach_m / level : 1;
            points.push_back(foot);
            points.push_back(foot + kept * way * Point2{toward_.x, toward_.y});
        }
        return room::hull(points.data(), static_cast<int>(points.size()));
    }

private:
    room::WallFrame frame_;
    double outer_m_, ground_m_;
    Point3 toward_;
    Convex on_wall_;
};

Convex both(const Convex& a, const Convex& b) {
    std::vector<Point2> points;
    for (const Convex* c : {&a, &b})
        for (int i = 0; i < c->n; ++i)
            points.push_back({c->x[i], c->y[i]});
    return room::hull(points.data(), static_cast<int>(points.size()));
}

}  // namespace

ClearGround clear_ground(const RoomStudy& study, std::size_t window, std::size_t mark,
                         const Span& hold, double height_m) {
    const room::Room& room = study.room();
    ClearGround out;
    out.lowest_ray_m = std::numeric_limits<double>::infinity();
    std::vector<Ring> parts;
    Convex before;
    for (Instant t = hold.from;; t = std::min(t + ground_stride, hold.to)) {
        const Beam beam{room, room.windows[window], room.marks[mark],
                        study.sun(study.path().at(t))};
        out.lowest_ray_m = std::min(out.lowest_ray_m, beam.lowest_m());
        const Convex now = beam.ground(height_m);
        parts.push_back(ring_of(both(before, now)));
        before = now;
        if (!(t < hold.to)) break;
    }
    out.outlines = together(parts);
    return out;
}

std::vector<Ring> ground_shadow(const Ring& footprint, double height_m, Point3 toward) {
    if (footprint.size() < 3 || toward.z <= 0) return {};
    const Point2 way = (-height_m / toward.z) * Point2{toward.x, toward.y};
    std::vector<Ring> parts{footprint, footprint};
    for (Point2& p : parts[1])
        p = p + way;
    for (std::size_t i = 0; i < footprint.size(); ++i) {
        const Point2 a = footprint[i], b = footprint[(i + 1) % footprint.size()];
        parts.push_back({a, b, b + way, a + way});
    }
    return together(parts);
}

}  // namespace keyhour::study
