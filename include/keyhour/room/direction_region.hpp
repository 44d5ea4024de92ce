#pragma once
/// @file
/// From which directions does the light through a window cover a mark? A fixed region of the sky
/// over the plan: it knows no date, and turning the plan only shifts it in azimuth.

#include <cstddef>
#include <functional>
#include <vector>

#include "keyhour/room/scene.hpp"

namespace keyhour::room {

/// A direction over the plan, radians.
struct PlanDirection {
    double azimuth = 0;   ///< clockwise from the plan's +y axis; not wrapped, so that rings close
    double altitude = 0;  ///< along the ray: apparent
};

/// A closed outline, the first point not repeated. The region lies to the left of its way, azimuth
/// drawn to the right and altitude upward: counter-clockwise round the region, clockwise round a
/// hole.
using DirectionRing = std::vector<PlanDirection>;

/// What makes a direction good, and where to look.
struct RegionRequest {
    std::size_t mark = 0, window = 0;
    double coverage = 0.95;              ///< of the mark's silhouette, at least
    const Camera* camera = nullptr;      ///< none: key angle and frame are not judged
    double key_angle_deg[2] = {0, 180};  ///< unsigned
    double lowest = 0, highest = 1.5;    ///< altitudes between which outlines are wanted
    /// May light come from within `slack` (radians) of the direction, a unit vector in plan axes?
    /// Where not, the region's outline is closed somehow and means nothing.
    std::function<bool(Point3, double slack)> may_come;
};

/// Longest chord, and how far a chord may leave the true outline: the sun moves 0.004 degree a
/// second.
inline constexpr double longest_chord = 0.0175;
inline constexpr double chord_error = 1e-5;

/// The outlines of the region. Found on cells of 4 degrees, cut down to a quarter degree where an
/// edge may touch the mark's silhouette; what is smaller in every way than that may be missed.
[[nodiscard]] std::vector<DirectionRing> covered_region(const Scene& scene,
                                                        const RegionRequest& request);

}  // namespace keyhour::room
