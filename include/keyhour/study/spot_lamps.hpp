#pragma once
/// @file
/// Street and yard lamps at a spot outside, at night.

#include <string>
#include <vector>

#include "keyhour/site/location.hpp"

namespace keyhour::study {

/// One lamp as the spot has it. It hangs and shines down.
struct LampAtSpot {
    std::size_t lamp = 0;       ///< index into Location::lamps
    double along_ground_m = 0;  ///< from the spot to the point below the lamp
    double ground_lx = 0;       ///< on level ground at the spot
    double eye_lx = 0;       ///< at the spot's eye height, square to the ray: a face turned to it
    std::string blocked_by;  ///< what stands between lamp and eye; empty if nothing
};

/// Lamps outside that have a place and no stand, in the order of the file. Ground is level; walls
/// throw nothing back; thin trees and those in leaf are left out.
[[nodiscard]] std::vector<LampAtSpot> lamps_at(const site::Location& location,
                                               const site::Spot& spot);

/// On level ground, all of them together.
[[nodiscard]] double ground_lx(const std::vector<LampAtSpot>& lamps);

}  // namespace keyhour::study
