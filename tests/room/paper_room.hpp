#pragma once
// A room whose figures are worked out on paper.

#include "keyhour/room/room.hpp"

namespace keyhour::test {

/// Window 2 m x 1.5 m in the wall along y = 0, which looks to -y; on the plan x = 3..5, and left is
/// where x is larger. No mark.
inline room::Room paper_room(double reveal_m) {
    room::Room r;
    r.floor = {{0, 0}, {8, 0}, {8, 6}, {0, 6}};
    r.walls = {"window", "right", "back", "left"};
    r.height_m = 4;
    r.windows.emplace_back();
    r.windows[0].name = "window";
    r.windows[0].left_m = 3;
    r.windows[0].width_m = 2;
    r.windows[0].sill_m = 1;
    r.windows[0].height_m = 1.5;
    r.windows[0].reveal_m = reveal_m;
    return r;
}

}  // namespace keyhour::test
