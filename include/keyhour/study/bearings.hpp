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
    /// A few of `all`, two degrees apart or closer, both ends among them and not the stated one:
    /// where to look for what the stated bearing does not give.
    std::vector<room::PlanTurn> some;
};

}  // namespace keyhour::study
