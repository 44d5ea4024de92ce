#pragma once
/// @file
/// How much of what a point can receive comes through one opening.

#include <span>

#include "keyhour/light/direction.hpp"

namespace keyhour::light {

/// A rectangle that lies before a point, measured from the foot of the point's perpendicular on the
/// rectangle's plane. Sides may lie on either side of the foot.
struct RectangleAhead {
    double left_m, right_m;  ///< left < right
    double low_m, high_m;    ///< low < high
    double distance_m;       ///< > 0, along the perpendicular
};

/// A uniform luminance L behind the rectangle gives L pi F lx. 0..1; a receiver parallel to it.
/// Source: closed form of the handbooks on daylight and on radiant heat (corner rectangles, added
/// and subtracted).
[[nodiscard]] double parallel_factor(const RectangleAhead& r) noexcept;

/// The same for a receiver square to the rectangle's plane, which looks in the rectangle's `high`
/// direction (a floor or a table under an upright window): only what lies above the foot counts.
[[nodiscard]] double perpendicular_factor(const RectangleAhead& r) noexcept;

/// From a point to a corner, any length above 0.
struct Ray {
    double x, y, z;
};

/// The same for any flat polygon and any receiver.
/// @param corners  as seen from the point in either turning sense; all in front of the receiver's
///                 plane or on it (what lies behind must be cut off before)
/// @param normal   unit vector, same axes
/// Source: Lambert, Photometria (1760), sum over the edges.
[[nodiscard]] double polygon_factor(std::span<const Ray> corners, const Ray& normal) noexcept;

}  // namespace keyhour::light
