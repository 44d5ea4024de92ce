#include "keyhour/room/plan.hpp"

#include <algorithm>
#include <cstddef>

#include "convex_pieces.hpp"

namespace keyhour::room {
namespace {

constexpr double touching_m = 1e-9;

double distance_to_segment(Point2 p, Point2 a, Point2 b) {
    const Point2 ab = b - a;
    const double along = dot(ab, ab);
    const double t = along > 0 ? std::clamp(dot(p - a, ab) / along, 0.0, 1.0) : 0.0;
    return length(p - (a + t * ab));
}

double distance_of_segments(Point2 a, Point2 b, Point2 c, Point2 d) {
    const double o1 = cross(b - a, c - a), o2 = cross(b - a, d - a);
    const double o3 = cross(d - c, a - c), o4 = cross(d - c, b - c);
    if (o1 * o2 < 0 && o3 * o4 < 0) return 0;
    return std::min({distance_to_segment(a, c, d), distance_to_segment(b, c, d),
                     distance_to_segment(c, a, b), distance_to_segment(d, a, b)});
}

}  // namespace

double signed_area(const Ring& ring) noexcept {
    return signed_area_of(ring);
}

bool contains(const Ring& ring, Point2 p) noexcept {
    bool inside = false;
    for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++) {
        const Point2 a = ring[j], b = ring[i];
        if (distance_to_segment(p, a, b) <= touching_m) return true;
        if ((a.y > p.y) != (b.y > p.y) && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x)
            inside = !inside;
    }
    return inside;
}

bool crosses_itself(const Ring& ring) noexcept {
    const std::size_t n = ring.size();
    if (n < 3) return true;
    for (std::size_t i = 0; i < n; ++i) {
        const Point2 a = ring[i], b = ring[(i + 1) % n];
        if (length(b - a) < 1e-6) return true;
        // Neighbours share a corner; they must not fold back on each other.
        const Point2 c = ring[(i + 2) % n];
        if (std::abs(cross(b - a, c - b)) <= touching_m * length(c - b) && dot(b - a, c - b) < 0)
            return true;
        for (std::size_t k = i + 2; k < n; ++k) {
            if (i == 0 && k == n - 1) continue;
            if (distance_of_segments(a, b, ring[k], ring[(k + 1) % n]) <= touching_m) return true;
        }
    }
    return false;
}

}  // namespace keyhour::room
