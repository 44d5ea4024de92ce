#pragma once
/// @file
/// Vectors of the plan's space: what the geometry of rooms and lamps shares.

#include <cmath>

#include "keyhour/room/plan.hpp"

namespace keyhour::room {

[[nodiscard]] inline double norm(Point3 v) noexcept {
    return std::sqrt(dot(v, v));
}

/// @param v  not of length 0
[[nodiscard]] inline Point3 unit(Point3 v) noexcept {
    return (1 / norm(v)) * v;
}

[[nodiscard]] inline Point3 cross3(Point3 a, Point3 b) noexcept {
    return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}

}  // namespace keyhour::room
