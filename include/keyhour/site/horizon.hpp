#pragma once
/// @file
/// The site's skyline: a profile of altitude over true bearing. It does not turn with the plan.

#include <vector>

#include "keyhour/sun/angle.hpp"

namespace keyhour::site {

struct HorizonPoint {
    Angle bearing;   ///< true, 0 <= bearing < 360 degrees
    Angle altitude;  ///< 0 <= altitude < 90 degrees
};

/// Straight lines between the points, wrapping through north. Without points it is level.
class Horizon {
public:
    Horizon() = default;
    /// @param points  in any order; bearings wrapped, distinct, altitudes 0..90 degrees
    explicit Horizon(std::vector<HorizonPoint> points);

    [[nodiscard]] Altitude altitude_at(Azimuth azimuth) const noexcept;
    [[nodiscard]] bool is_level() const noexcept { return points_.empty(); }
    [[nodiscard]] const std::vector<HorizonPoint>& points() const noexcept { return points_; }

private:
    std::vector<HorizonPoint> points_;  // ascending in bearing
};

}  // namespace keyhour::site
