#pragma once
/// @file
/// A glowing forge or furnace in the room, as far as its light goes: its opening.

#include <string>

#include "keyhour/room/plan.hpp"

namespace keyhour::site {

/// Glowing coal and iron: bright orange, from memory (smiths' heat colours put 1500 K between
/// yellow and orange). What glows is no black body; this is an order.
inline constexpr double usual_forge_kelvin = 1500;

/// An evenly bright flat rectangle, which shines forward alone.
struct Forge {
    std::string name;
    room::Point3 at;      ///< middle of its opening, on the plan and above the floor
    room::Point3 facing;  ///< unit vector, square to the opening, into the room
    double width_m = 0, height_m = 0;
    double metered_lx = 0;    ///< straight before its middle, on a receptor turned to it
    double metered_at_m = 0;  ///< how far off
    double kelvin = usual_forge_kelvin;
};

}  // namespace keyhour::site
