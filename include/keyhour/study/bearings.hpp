#pragma once
/// @file
/// The doubt of the wall's bearing: the plan laid at every bearing within it.

#include <vector>

#include "keyhour/room/scene.hpp"

namespace keyhour::study {

/// Turns of the plan from -within to +within, half a degree apart or closer.
struct Bearings {
    explicit Bearings(const room::Room& room);

    room::PlanTurn stated;
    std::vector<room::PlanTurn> all;  ///< both ends first, then inward; the stated one last
};

}  // namespace keyhour::study
