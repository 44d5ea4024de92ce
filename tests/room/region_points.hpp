#pragma once
// Directions and regions of them, apart from src/room.

#include <cmath>
#include <vector>

#include "keyhour/room/direction_region.hpp"

namespace keyhour::test {

/// The unit vector of a direction, radians.
inline room::Point3 toward(double azimuth, double altitude) {
    return {std::cos(altitude) * std::sin(azimuth), std::cos(altitude) * std::cos(azimuth),
            std::sin(altitude)};
}

/// By the number of outlines that a line of equal altitude meets to one side of it.
inline bool lies_in(const std::vector<room::DirectionRing>& region, room::PlanDirection d) {
    bool is_in = false;
    for (const room::DirectionRing& ring : region)
        for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++) {
            const room::PlanDirection a = ring[j], b = ring[i];
            if ((a.altitude > d.altitude) == (b.altitude > d.altitude)) continue;
            const double share = (d.altitude - a.altitude) / (b.altitude - a.altitude);
            if (a.azimuth + share * (b.azimuth - a.azimuth) > d.azimuth) is_in = !is_in;
        }
    return is_in;
}

/// Outlines between two altitudes, wherever light may come from.
inline room::RegionBounds between(double lowest, double highest) {
    return {lowest, highest, [](room::Point3, double) { return true; }};
}

/// Azimuth straight before a window.
inline double facing(const room::Room& r, std::size_t window) {
    const room::Point2 n = room::wall_frame(r.floor, r.windows[window].wall).n;
    return std::atan2(n.x, n.y);
}

}  // namespace keyhour::test
