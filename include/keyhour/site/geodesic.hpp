#pragma once
/// @file
/// The shortest line between two places.

#include "keyhour/site/position.hpp"

namespace keyhour::site {

/// A geodesic of the WGS 84 ellipsoid.
struct GeodesicLine {
    double length_m = 0;
    Angle bearing_at_first;  ///< from true north, clockwise, along the line
    Angle bearing_at_last;
    /// Half-way, for lines of some kilometres.
    [[nodiscard]] Angle bearing_at_middle() const noexcept {
        return bearing_at_first + wrapped_half_turn(bearing_at_last - bearing_at_first) / 2;
    }
};

/// Source: GeographicLib::Geodesic (C. F. F. Karney, Algorithms for geodesics, J. Geod. 87, 2013).
[[nodiscard]] GeodesicLine line_between(const Coordinates& first, const Coordinates& last);

}  // namespace keyhour::site
