#include "keyhour/room/room.hpp"

#include <catch2/catch.hpp>

using namespace keyhour;
using namespace keyhour::room;

namespace {
Room square_room(bool counter_clockwise) {
    Room r;
    r.floor = {{0, 0}, {4, 0}, {4, 3}, {0, 3}};
    r.walls = {"south", "east", "north", "west"};
    if (!counter_clockwise) {
        r.floor = {{4, 0}, {0, 0}, {0, 3}, {4, 3}};
        r.walls = {"south", "west", "north", "east"};
    }
    r.bearing.wall = 0;
    r.bearing.faces = Angle::degrees(180);
    return r;
}
}  // namespace

TEST_CASE("a plan with north up the page has its walls facing as drawn", "[room]") {
    for (const bool sense : {true, false}) {
        const Room r = square_room(sense);
        CHECK(std::abs(wrapped_half_turn(plan_bearing(r).from_north).in_degrees()) < 1e-9);
        const std::size_t east = sense ? 1 : 3;
        CHECK(wall_faces(r, east).from_north.in_degrees() == Approx(90));
        const WallFrame f = wall_frame(r.floor, 0);
        CHECK(f.left_corner == Point2{4, 0});  // looking south, east is at the left hand
        CHECK(f.u.x == Approx(-1));
        CHECK(f.n.y == Approx(-1));
    }
}

TEST_CASE("a magnetic bearing gains the compass's declination", "[room]") {
    Room r = square_room(true);
    r.bearing.magnetic = true;
    r.bearing.declination = Angle::degrees(-3);
    CHECK(r.bearing.faces_true().from_north.in_degrees() == Approx(177));
}
