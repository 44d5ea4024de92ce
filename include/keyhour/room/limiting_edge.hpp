#pragma once
/// @file
/// What begins or ends a span of sun.

#include <cstddef>
#include <string>

#include "keyhour/room/room.hpp"

namespace keyhour::room {

enum class Edge {
    none,
    head,
    sill,
    left_jamb,
    right_jamb,
    bar,
    object,     ///< index into Room::objects
    building,   ///< index into Room::buildings
    own_walls,  ///< another wing of the room's own body, outside
    wall,       ///< an inner wall between window and mark; index into Room::walls
    horizon,
    // Limits that the user sets for a clean key:
    key_angle,
    altitude,
    frame,
    cover,    ///< sun through another window, when no cover may be hung; index into Room::windows
    midnight  ///< the range asked for begins or ends here
};

struct LimitingEdge {
    Edge kind = Edge::none;
    std::size_t index = 0;
    friend bool operator==(LimitingEdge, LimitingEdge) = default;
};

/// In words: "head", "left jamb", "building warehouse opposite", "horizon".
[[nodiscard]] std::string words(const LimitingEdge& edge, const Room& room);

}  // namespace keyhour::room
