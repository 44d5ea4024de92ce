#pragma once
/// @file
/// The site's skyline: a profile of altitude over true bearing. It does not turn with the plan.

#include <cstddef>
#include <vector>

#include "keyhour/sun/angle.hpp"

namespace keyhour::site {

/// A corner of the skyline.
struct HorizonPoint {
    Angle bearing;   ///< true, 0 <= bearing < 360 degrees
    Angle altitude;  ///< apparent, -90 < altitude < 90 degrees; below 0 only from terrain
};

/// Where a skyline was had from, for the read-back.
struct HorizonSource {
    enum class Kind { list, file, survey, terrain } kind = Kind::list;
    bool magnetic = false;       ///< bearings were a compass's
    Angle declination;           ///< by which they were turned, east positive
    std::size_t tiles = 0;       ///< terrain grids that were looked at
    double eye_above_sea_m = 0;  ///< terrain: of the eye at the site
};

/// Straight lines between the points, wrapping through north. Without points it is level.
class Horizon {
public:
    Horizon() = default;
    /// @param points  in any order; bearings wrapped, distinct, altitudes -90..90 degrees
    explicit Horizon(std::vector<HorizonPoint> points);

    /// Of the skyline, apparent; level (0) without points.
    [[nodiscard]] Altitude altitude_at(Azimuth azimuth) const noexcept;
    [[nodiscard]] bool is_level() const noexcept { return points_.empty(); }
    [[nodiscard]] const std::vector<HorizonPoint>& points() const noexcept { return points_; }

private:
    std::vector<HorizonPoint> points_;  // ascending in bearing
};

}  // namespace keyhour::site
