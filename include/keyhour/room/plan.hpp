#pragma once
/// @file
/// Points of the plan. Metres: x to the right of the page, y up the page, z up from the room's
/// floor.

#include <cmath>
#include <vector>

#include "keyhour/room/real.hpp"

namespace keyhour::room {

/// A point or a difference of points on the plan, m.
struct Point2 {
    Real x = 0, y = 0;
    friend constexpr Point2 operator+(Point2 a, Point2 b) { return {a.x + b.x, a.y + b.y}; }
    friend constexpr Point2 operator-(Point2 a, Point2 b) { return {a.x - b.x, a.y - b.y}; }
    friend constexpr Point2 operator*(Real k, Point2 a) { return {k * a.x, k * a.y}; }
    friend constexpr bool operator==(Point2, Point2) = default;
};
/// Scalar product, m2.
constexpr Real dot(Point2 a, Point2 b) {
    return a.x * b.x + a.y * b.y;
}
/// Twice the area between a and b, m2; positive where b lies to the left of a.
constexpr Real cross(Point2 a, Point2 b) {
    return a.x * b.y - a.y * b.x;
}
/// m.
inline Real length(Point2 a) {
    return std::hypot(a.x, a.y);
}

/// The same with a height, m above the room's floor.
struct Point3 {
    Real x = 0, y = 0, z = 0;
    friend constexpr Point3 operator+(Point3 a, Point3 b) {
        return {a.x + b.x, a.y + b.y, a.z + b.z};
    }
    friend constexpr Point3 operator-(Point3 a, Point3 b) {
        return {a.x - b.x, a.y - b.y, a.z - b.z};
    }
    friend constexpr Point3 operator*(Real k, Point3 a) { return {k * a.x, k * a.y, k * a.z}; }
    friend constexpr bool operator==(Point3, Point3) = default;
};
/// Scalar product, m2.
constexpr Real dot(Point3 a, Point3 b) {
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

/// Corners of a closed outline in order; the first corner is not repeated at the end.
using Ring = std::vector<Point2>;

/// Area enclosed, m2, positive when the corners run counter-clockwise: half the sum of corner x
/// next corner (the shoelace formula). 0 for fewer than three corners.
[[nodiscard]] Real signed_area(const Ring& ring) noexcept;

/// Is p inside the outline or on its edge (within 1e-9 m)? Either turning
/// sense.
[[nodiscard]] bool contains(const Ring& ring, Point2 p) noexcept;

/// Does the outline cross or touch itself, or has it an edge shorter than 1e-6 m?
[[nodiscard]] bool crosses_itself(const Ring& ring) noexcept;

}  // namespace keyhour::room
