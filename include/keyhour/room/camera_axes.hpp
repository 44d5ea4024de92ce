#pragma once
/// @file
/// Which way a camera looks.

#include "keyhour/room/room.hpp"

namespace keyhour::room {

/// Unit vectors in plan axes, square to each other.
struct CameraAxes {
    Point3 right, up;  ///< of the frame
    Point3 forward;    ///< along the lens, to the mark that it aims at
};

/// @pre the camera does not stand in the mark's centre
/// Straight down or up there is no level side; the page's right serves.
[[nodiscard]] CameraAxes axes(const Room& room, const Camera& camera) noexcept;

}  // namespace keyhour::room
