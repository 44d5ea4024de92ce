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

/// Where outlines are wanted.
struct RegionBounds {
    double lowest = 0, highest = 1.5;  ///< altitudes
    /// May light come from within `slack` (radians) of the direction, a unit vector in plan axes?
    /// Where not, the region's outline is closed somehow and means nothing.
    std::function<bool(Point3, double slack)> may_come;
};

/// What makes a direction good, and where to look.
struct RegionRequest {
    std::size_t mark = 0, window = 0;
    double coverage = 0.95;              ///< of the mark's silhouette, at least
    const Camera* camera = nullptr;      ///< none: key angle and frame are not judged
    double key_angle_deg[2] = {0, 180};  ///< unsigned
    /// Is the direction no good for another reason, other windows' sun? None: it never is. A
    /// plain yes or no: what it spoils is found where it is a quarter degree wide.
    std::function<bool(Point3)> spoils;
    RegionBounds bounds;
};

/// How far a chord may leave the true outline: the sun moves 0.004 degree a second.
inline constexpr double chord_error = 1e-5;

/// The outlines of the region. Found on cells of 4 degrees, cut down to a quarter degree (less
/// where mark, bars or what stands outside are small, seen from one another) where an edge may
/// touch the mark's silhouette, and on to 0.004 degree where corners and middle leave room for a
/// change.
[[nodiscard]] std::vector<DirectionRing> covered_region(const Scene& scene,
                                                        const RegionRequest& request);

/// The same of the directions from which sun comes in through a window's opening, by more of it
/// than the smallest patch. Its cover is not looked at.
[[nodiscard]] std::vector<DirectionRing> sunlit_region(const Scene& scene, std::size_t window,
                                                       const RegionBounds& bounds);

}  // namespace keyhour::room
