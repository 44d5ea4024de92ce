#pragma once
/// @file
/// Where the sun falls in the room, instant by instant.

#include <vector>

#include "keyhour/study/room_study.hpp"

namespace keyhour::study {

/// Sun through one window on one surface.
struct WindowPatch {
    std::size_t window = 0;  ///< index into Room::windows
    room::Patch patch;
};

/// How much of a mark a window lights.
struct MarkCoverage {
    std::size_t mark = 0, window = 0;  ///< indices into the room's lists
    double fraction = 0;               ///< of the mark's silhouette, above zero
};

/// Where the sun falls at one instant.
struct PatchInstant {
    Instant at;
    sun::Position sun;                    ///< over the site
    std::vector<WindowPatch> patches;     ///< through open windows, by window
    std::vector<MarkCoverage> coverages;  ///< by mark
};

/// Everything at one instant, at the stated bearing; nothing is lit while the sun stands below the
/// skyline.
[[nodiscard]] PatchInstant patches_at(const RoomStudy& study, Instant at);

/// Is the sun's centre above the level plane, refraction counted? The skyline is left aside.
/// @pre the study's track covers it, as for patches_at
[[nodiscard]] bool sun_is_up(const RoomStudy& study, Instant at);

}  // namespace keyhour::study
