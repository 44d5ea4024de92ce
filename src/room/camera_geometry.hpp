#pragma once
/// @file
/// A camera's axes and frame from directions alone.

#include <cmath>

#include "keyhour/room/camera_axes.hpp"
#include "keyhour/room/plan.hpp"
#include "keyhour/sun/angle.hpp"

namespace keyhour::room {

/// @param aim  from the lens to what it looks at, of any length but zero
[[nodiscard]] inline CameraAxes axes_along(Point3 aim) noexcept {
    const Real level = std::sqrt(aim.x * aim.x + aim.y * aim.y);
    const Real whole = std::sqrt(dot(aim, aim));
    const Point3 forward = (1 / whole) * aim;
    const Point3 right = level > hair ? Point3{aim.y / level, -aim.x / level, 0} : Point3{1, 0, 0};
    const Point3 up{right.y * forward.z - right.z * forward.y,
                    right.z * forward.x - right.x * forward.z,
                    right.x * forward.y - right.y * forward.x};
    return {right, up, forward};
}

/// @param across, upright  tangents of half the angles of view
[[nodiscard]] inline bool is_within_frame(const CameraAxes& a, Real across, Real upright,
                                          Point3 direction) noexcept {
    const Real forward = dot(direction, a.forward);
    return forward > 0 && std::abs(dot(direction, a.right)) <= forward * across &&
           std::abs(dot(direction, a.up)) <= forward * upright;
}

/// As key_angle(). @param to_camera  from the mark, on the plan
[[nodiscard]] inline Angle key_angle_between(Point2 to_camera, Point3 sun) noexcept {
    const Point2 to_sun{sun.x, sun.y};
    // Clockwise on the plan is to the right for who stands at the mark and looks at the camera.
    return Angle::radians(-std::atan2(cross(to_camera, to_sun), dot(to_camera, to_sun)));
}

}  // namespace keyhour::room
