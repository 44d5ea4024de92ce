#pragma once
/// @file
/// A direction in space, as compass and plumb line give it.

#include <cmath>

#include "keyhour/sun/angle.hpp"

namespace keyhour::light {

/// A unit vector. Of a plane: its normal, pointing away from the side that receives light.
struct Direction {
    double east = 0, north = 0, up = 1;
};

/// Of unit length. No error: every pair of angles has an answer.
[[nodiscard]] inline Direction direction(Altitude altitude, Azimuth azimuth) noexcept {
    const double level = cos(altitude.above_horizon);
    return {level * sin(azimuth.from_north), level * cos(azimuth.from_north),
            sin(altitude.above_horizon)};
}

/// Cosine of the angle between two directions, -1..1; beyond by the last bit only.
[[nodiscard]] constexpr double cosine(const Direction& a, const Direction& b) noexcept {
    return a.east * b.east + a.north * b.north + a.up * b.up;
}

}  // namespace keyhour::light
