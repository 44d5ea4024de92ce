#include <algorithm>
#include <cmath>

#include "camera_geometry.hpp"
#include "keyhour/room/scene.hpp"
#include "vectors.hpp"

namespace keyhour::room {

CameraAxes axes(const Room& room, const Camera& camera) noexcept {
    const Mark& mark = room.marks[camera.aims_at];
    return axes_along(Point3{mark.at.x, mark.at.y, mark.height_m} -
                      Point3{camera.at.x, camera.at.y, camera.height_m});
}

namespace {

/// Keeps the part of a flat outline where dot(n, p) >= 0 (Sutherland and Hodgman 1974).
std::vector<Point3> kept(const std::vector<Point3>& ring, Point3 n) {
    std::vector<Point3> out;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Point3 p = ring[i], q = ring[(i + 1) % ring.size()];
        const double dp = dot(n, p), dq = dot(n, q);
        if (dp >= 0) out.push_back(p);
        if ((dp < 0) != (dq < 0)) out.push_back(p + (dp / (dp - dq)) * (q - p));
    }
    return out;
}

double distance_to_edge(Point3 p, Point3 a, Point3 b) {
    const Point3 ab = b - a;
    const double along = dot(ab, ab);
    const double t = along > 0 ? std::clamp(dot(p - a, ab) / along, 0.0, 1.0) : 0;
    const Point3 d = p - (a + t * ab);
    return std::sqrt(dot(d, d));
}

/// Newell's normal: twice the area, square to the ring's plane.
Point3 normal(const std::vector<Point3>& ring) {
    Point3 n;
    for (std::size_t i = 1; i + 1 < ring.size(); ++i)
        n = n + cross3(ring[i] - ring[0], ring[i + 1] - ring[0]);
    return n;
}

double size(Point3 v) {
    return std::sqrt(dot(v, v));
}

bool is_opposite(Point3 a, Point3 b) {
    return dot(a, b) < 0 && size(cross3(a, b)) <= 1e-6 * size(a) * size(b);
}

/// Does the foot of p on the ring's plane lie inside the ring?
bool foot_inside(const std::vector<Point3>& ring, Point3 n, Point3 p) {
    bool inside = false;
    const double ax = std::abs(n.x), ay = std::abs(n.y), az = std::abs(n.z);
    const Point3 foot = p - (dot(p - ring[0], n) / dot(n, n)) * n;
    const auto flat = [&](Point3 q) -> Point2 {
        if (az >= ax && az >= ay) return {q.x, q.y};
        if (ax >= ay) return {q.y, q.z};
        return {q.x, q.z};
    };
    const Point2 f = flat(foot);
    for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++) {
        const Point2 a = flat(ring[j]), b = flat(ring[i]);
        if ((a.y > f.y) != (b.y > f.y) && f.x < (b.x - a.x) * (f.y - a.y) / (b.y - a.y) + a.x)
            inside = !inside;
    }
    return inside;
}

}  // namespace

bool in_frame(const Room& room, const Camera& camera, Point3 direction) noexcept {
    return is_within_frame(axes(room, camera), tan(camera.view / 2), tan(camera.view_vertical / 2),
                           direction);
}

bool in_frame(const Room& room, const Camera& camera, const Patch& patch) {
    const CameraAxes a = axes(room, camera);
    const double h = tan(camera.view / 2), v = tan(camera.view_vertical / 2);
    const Point3 eye{camera.at.x, camera.at.y, camera.height_m};
    const Point3 sides[] = {h * a.forward - a.right, h * a.forward + a.right, v * a.forward - a.up,
                            v * a.forward + a.up, a.forward};
    constexpr double seen_m2 = 2e-8;  // twice the area
    Point3 outer, lit;                // area vectors: of the last outer ring; of its light in frame
    for (const auto& outline : patch.outlines) {
        std::vector<Point3> ring;
        for (const Point3 p : outline)
            ring.push_back(p - eye);
        const Point3 whole = normal(ring);
        for (const Point3 side : sides)
            ring = kept(ring, side);
        const Point3 in_view = ring.size() >= 3 ? normal(ring) : Point3{};
        // A hole turns the other way than the outer ring before it; two faces of one object that
        // look opposite ways are never lit together.
        if (!is_opposite(whole, outer)) {
            if (size(lit) > seen_m2) return true;
            outer = whole;
            lit = {};
        }
        lit = lit + in_view;
    }
    return size(lit) > seen_m2;
}

double distance_to(const Patch& patch, Point3 p) {
    double best = 1e300;
    for (const auto& ring : patch.outlines)
        for (std::size_t i = 0; i < ring.size(); ++i)
            best = std::min(best, distance_to_edge(p, ring[i], ring[(i + 1) % ring.size()]));
    // Rings of one plane belong together: a foot inside an odd number of them is on the light.
    std::vector<bool> done(patch.outlines.size(), false);
    for (std::size_t i = 0; i < patch.outlines.size(); ++i) {
        if (done[i] || patch.outlines[i].size() < 3) continue;
        const Point3 n = normal(patch.outlines[i]);
        const double size = std::sqrt(dot(n, n));
        if (size <= 0) continue;
        const double off = dot(p - patch.outlines[i][0], n) / size;
        bool lit = false;
        for (std::size_t k = i; k < patch.outlines.size(); ++k) {
            const Point3 nk = normal(patch.outlines[k]);
            const Point3 turn = cross3(n, nk);
            const bool same_plane =
                std::sqrt(dot(turn, turn)) <= 1e-6 * size * std::sqrt(dot(nk, nk)) &&
                std::abs(dot(p - patch.outlines[k][0], n) / size - off) < 1e-6;
            if (!same_plane) continue;
            done[k] = true;
            if (foot_inside(patch.outlines[k], n, p)) lit = !lit;
        }
        if (lit) best = std::min(best, std::abs(off));
    }
    return best;
}

Angle key_angle(const Room& room, const Camera& camera, Point3 sun) noexcept {
    return key_angle_between(camera.at - room.marks[camera.aims_at].at, sun);
}

}  // namespace keyhour::room
