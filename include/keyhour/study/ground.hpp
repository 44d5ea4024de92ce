#pragma once
/// @file
/// The level ground outside: where sunrays to a mark pass low over it, and what shadows lie on it.

#include <vector>

#include "keyhour/room/plan.hpp"
#include "keyhour/study/room_study.hpp"
#include "keyhour/study/spans.hpp"

namespace keyhour::study {

/// Ground over which some ray to a mark passes lower than a height.
struct ClearGround {
    std::vector<room::Ring> outlines;  ///< plan metres, counter-clockwise; without holes
    /// How high above the ground the lowest of these rays passes, m; it does so at the wall. What
    /// is lower may stand anywhere.
    double lowest_ray_m = 0;
};

/// What no ray from farther off is looked at: the sun stands too low to tell, m from the wall.
inline constexpr double clear_ground_reach_m = 300;

/// Where nothing up to `height_m` high may stand while the sun through `window` is to reach the
/// whole mark. Outside it nothing that high takes any of that light, before the window's own wall
/// at least. Where the rays pass higher everywhere there is no outline. From directions a minute
/// apart, with what lies between them; a sphere as the polygon around it, so that it is never too
/// small.
/// @param window  index into the room's windows; the rays go through its whole opening
/// @param hold    from <= to, covered by the study's track
/// @param height_m  above the ground, which lies `floor_above_ground_m` below the floor
[[nodiscard]] ClearGround clear_ground(const RoomStudy& study, std::size_t window, std::size_t mark,
                                       const Span& hold, double height_m);

/// The shadow of an upright thing on level ground, the ground it stands on included.
/// @param toward  unit vector to the sun, plan axes; z above 0
/// @return        outlines, counter-clockwise; without holes: a yard within is in it
[[nodiscard]] std::vector<room::Ring> ground_shadow(const room::Ring& footprint, double height_m,
                                                    room::Point3 toward);

}  // namespace keyhour::study
