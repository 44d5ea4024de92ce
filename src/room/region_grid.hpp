#pragma once
/// @file
/// The grid of directions on which a region's outline is traced.

#include <numbers>

namespace keyhour::room {

inline constexpr double degree = std::numbers::pi / 180;
inline constexpr double root_angle = 4 * degree;
/// Steps of the grid: a quarter of a degree is the usual cell; where something hides in one, it is
/// cut down as far as a single step, 0.004 degree.
inline constexpr int coarse = 64;
inline constexpr int root_size = 16 * coarse;
/// Outlines stay true so far beyond the sun's reach.
inline constexpr double beyond_reach = 1.5 * degree;
inline constexpr double crossing_error = 4e-6;

/// A rectangle of azimuth and altitude, radians.
struct Domain {
    double x0, x1, y0, y1;
};

/// How finely a value must be looked at.
struct Grain {
    int largest = coarse;  ///< cells on an edge, steps of the grid
    int finest = coarse;   ///< the same where the value is so near zero that small things count
    double slope = 0;      ///< the value changes by no more than this a radian
    double ridge = 2;      ///< see may_hide
};

}  // namespace keyhour::room
