#pragma once
/// @file
/// What begins or ends a span of sun.

#include <cstddef>
#include <string>

#include "keyhour/room/room.hpp"

namespace keyhour::room {

/// What stands where the light that just reaches, or just misses, passes. Jambs are left and right
/// as seen from inside.
enum class Edge {
    none,        ///< nothing is told: what changes is no edge
    head,        ///< of the opening, at its inner or its outer face
    sill,        ///< the same below
    left_jamb,   ///< the same at the side
    right_jamb,  ///< the same at the other
    bar,         ///< a glazing bar
    object,      ///< index into Room::objects
    building,    ///< index into Room::buildings
    own_walls,   ///< another wing of the room's own body, outside
    wall,        ///< an inner wall between window and mark; index into Room::walls
    horizon,     ///< the site's own skyline
    // Limits that the user sets for a clean key:
    key_angle,  ///< between the light and the lens axis, on the level
    altitude,   ///< of the sun, apparent
    frame,      ///< the opening comes into the camera's frame
    cover,      ///< sun through another window, when no cover may be hung; index into Room::windows
    midnight    ///< the range asked for begins or ends here
};

/// An edge, and which one of its kind.
struct LimitingEdge {
    Edge kind = Edge::none;
    std::size_t index = 0;  ///< as the kind says; 0 for those without an index
    friend bool operator==(LimitingEdge, LimitingEdge) = default;
};

/// In words: "head", "left jamb", "building warehouse opposite", "horizon".
[[nodiscard]] std::string words(const LimitingEdge& edge, const Room& room);

}  // namespace keyhour::room
