#pragma once
/// @file
/// Where the sun falls in the room, instant by instant.

#include <vector>

#include "keyhour/study/room_study.hpp"

namespace keyhour::study {

struct WindowPatch {
    std::size_t window = 0;
    room::Patch patch;
};

struct MarkCoverage {
    std::size_t mark = 0, window = 0;
    double fraction = 0;  ///< of the mark's silhouette, above zero
};

struct PatchInstant {
    Instant at;
    sun::Position sun;
    std::vector<WindowPatch> patches;     ///< through open windows, by window
    std::vector<MarkCoverage> coverages;  ///< by mark
};

/// Everything at one instant; nothing is lit while the sun stands below the skyline.
[[nodiscard]] PatchInstant patches_at(const RoomStudy& study, Instant at);

/// Is the sun's centre above the level plane, refraction counted?
[[nodiscard]] bool sun_is_up(const RoomStudy& study, Instant at);

}  // namespace keyhour::study
