#pragma once
/// @file
/// How a window stands to a camera, with a lamp outside its middle as the mark's key.

#include "keyhour/study/room_study.hpp"

namespace keyhour::study {

struct WindowView {
    double key_angle_deg = 0;  ///< signed, of the window's middle; positive: light from camera left
    bool in_frame = false;     ///< its opening
};

/// Indices are the room's. @pre the camera aims at the mark
[[nodiscard]] WindowView window_view(const RoomStudy& study, std::size_t window, std::size_t mark,
                                     std::size_t camera);

/// By how much a key angle of either sign misses the usual one of KeySettings, degrees.
[[nodiscard]] double off_usual_angle(double key_angle_deg);

}  // namespace keyhour::study
