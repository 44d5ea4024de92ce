#pragma once
// A random room with marks that some sun can reach.

#include <optional>
#include <vector>

#include "keyhour/room/scene.hpp"
#include "support/random_room.hpp"

namespace keyhour::test {

inline constexpr double degree = std::numbers::pi / 180;

/// A room with marks, and the suns that they were placed for.
struct Case {
    Room r;
    std::vector<Point3> suns;
};

inline Case random_case(Dice& dice) {
    Case c;
    c.r = random_room(dice);
    c.suns = {random_sun(dice, c.r), random_sun(dice, c.r)};
    add_marks(dice, c.r, 2, c.suns);
    return c;
}

inline std::optional<room::Patch> patch_on(const std::vector<room::Patch>& patches,
                                           room::Surface surface) {
    for (const room::Patch& patch : patches)
        if (patch.surface == surface) return patch;
    return std::nullopt;
}

}  // namespace keyhour::test
