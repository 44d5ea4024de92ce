#pragma once
/// @file
/// What stands between two points of a room.

#include <optional>

#include "keyhour/room/scene.hpp"

namespace keyhour::study {

/// An object or an inner wall; nothing where the way is clear.
[[nodiscard]] std::optional<room::LimitingEdge> what_stands_between(const room::Room& room,
                                                                    room::Point3 a, room::Point3 b);

}  // namespace keyhour::study
