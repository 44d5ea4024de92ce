#pragma once
/// @file
/// The altitude of a skyline, from its corners wherever they are kept.

#include <algorithm>
#include <span>

#include "keyhour/site/horizon.hpp"

namespace keyhour::site {

/// As Horizon::altitude_at. @param points  ascending in bearing, 0 <= bearing < 360 degrees
[[nodiscard]] inline Altitude skyline_of(std::span<const HorizonPoint> points,
                                         Azimuth azimuth) noexcept {
    if (points.empty()) return {};
    const Angle bearing = wrapped_turn(azimuth.from_north);
    const auto after =
        std::upper_bound(points.begin(), points.end(), bearing,
                         [](Angle b, const HorizonPoint& p) { return b < p.bearing; });
    const HorizonPoint& right = after == points.end() ? points.front() : *after;
    const HorizonPoint& left = after == points.begin() ? points.back() : *(after - 1);
    const Angle span = wrapped_turn(right.bearing - left.bearing);
    if (!(span > Angle{})) return {left.altitude};  // a single point: the same all round
    const double k = wrapped_turn(bearing - left.bearing).in_radians() / span.in_radians();
    return {left.altitude + k * (right.altitude - left.altitude)};
}

}  // namespace keyhour::site
