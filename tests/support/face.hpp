#pragma once
/// @file
/// The flat faces that a room shows to the light, and what a list of outlines says about a point of
/// one. Written for the tests, apart from src/room.

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "keyhour/room/plan.hpp"
#include "keyhour/room/room.hpp"

namespace keyhour::test {

using room::Point2;
using room::Point3;
using room::Ring;
using room::Room;

enum class Part { floor, wall, object };

/// A flat piece of a surface; its outline is counter-clockwise seen from the lit side.
struct Face {
    Part part = Part::floor;
    std::size_t index = 0;        ///< of the wall or the object
    Point3 origin, across, up;    ///< unit vectors in the face
    Point3 normal;                ///< across x up, towards the lit side
    Ring outline;                 ///< in (across, up)
    bool against_a_wall = false;  ///< an object's side that nobody can see

    [[nodiscard]] Point3 at(Point2 p) const { return origin + p.x * across + p.y * up; }
    [[nodiscard]] Point2 flat(Point3 p) const {
        return {dot(p - origin, across), dot(p - origin, up)};
    }
    [[nodiscard]] double height_over(Point3 p) const { return dot(p - origin, normal); }
};

inline Ring counter_clockwise(Ring ring) {
    double twice = 0;
    for (std::size_t i = 0; i < ring.size(); ++i)
        twice += cross(ring[i], ring[(i + 1) % ring.size()]);
    if (twice < 0) std::reverse(ring.begin(), ring.end());
    return ring;
}

inline Ring rectangle(double left, double low, double right, double high) {
    return {{left, low}, {right, low}, {right, high}, {left, high}};
}

inline Face level_face(Part part, std::size_t index, const Ring& print, double z_m) {
    return {part, index, {0, 0, z_m}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}, counter_clockwise(print),
            false};
}

/// The upright face over the edge a -> b whose lit side is to the right of a -> b.
inline Face upright_face(Part part, std::size_t index, Point2 a, Point2 b, double height_m) {
    const double width = length(b - a);
    const Point2 d = (1 / width) * (b - a);
    return {part,
            index,
            {a.x, a.y, 0},
            {d.x, d.y, 0},
            {0, 0, 1},
            {d.y, -d.x, 0},
            rectangle(0, 0, width, height_m),
            false};
}

inline bool lies_in_a_wall(const Room& r, Point2 a, Point2 b) {
    for (std::size_t w = 0; w < r.floor.size(); ++w) {
        const room::WallFrame f = room::wall_frame(r.floor, w);
        if (std::abs(dot(a - f.left_corner, f.n)) < 1e-6 &&
            std::abs(dot(b - f.left_corner, f.n)) < 1e-6)
            return true;
    }
    return false;
}

/// Floor first, then the walls in order, then each object's top and sides.
inline std::vector<Face> faces_of(const Room& r) {
    std::vector<Face> faces{level_face(Part::floor, 0, r.floor, 0)};
    for (std::size_t w = 0; w < r.floor.size(); ++w) {
        const room::WallFrame f = room::wall_frame(r.floor, w);
        faces.push_back(upright_face(Part::wall, w, f.left_corner, f.left_corner + f.width_m * f.u,
                                     r.height_m));
    }
    for (std::size_t o = 0; o < r.objects.size(); ++o) {
        const Ring print = counter_clockwise(r.objects[o].footprint);
        faces.push_back(level_face(Part::object, o, print, r.objects[o].height_m));
        for (std::size_t i = 0; i < print.size(); ++i) {
            const Point2 a = print[i], b = print[(i + 1) % print.size()];
            faces.push_back(upright_face(Part::object, o, a, b, r.objects[o].height_m));
            faces.back().against_a_wall = lies_in_a_wall(r, a, b);
        }
    }
    return faces;
}

/// Even-odd over all rings.
inline bool inside(const std::vector<Ring>& rings, Point2 p) {
    bool in = false;
    for (const Ring& ring : rings)
        for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++) {
            const Point2 a = ring[j], b = ring[i];
            if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y))
                in = !in;
        }
    return in;
}

inline double distance_to_edges(const std::vector<Ring>& rings, Point2 p) {
    double least = std::numeric_limits<double>::infinity();
    for (const Ring& ring : rings)
        for (std::size_t i = 0; i < ring.size(); ++i) {
            const Point2 a = ring[i], ab = ring[(i + 1) % ring.size()] - a;
            const double along = dot(ab, ab);
            const double t = along > 0 ? std::clamp(dot(p - a, ab) / along, 0.0, 1.0) : 0;
            least = std::min(least, length(p - (a + t * ab)));
        }
    return least;
}

/// Farthest that a corner of the ring lies off the face's plane.
inline double off_plane(const Face& face, const std::vector<Point3>& ring) {
    double most = 0;
    for (const Point3 p : ring)
        most = std::max(most, std::abs(face.height_over(p)));
    return most;
}

inline Ring flattened(const Face& face, const std::vector<Point3>& ring) {
    Ring flat;
    for (const Point3 p : ring)
        flat.push_back(face.flat(p));
    return flat;
}

}  // namespace keyhour::test
