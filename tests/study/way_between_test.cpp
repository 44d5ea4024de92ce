// What stands on a straight way through a room, by hand.

#include "../../src/study/way_between.hpp"

#include <catch2/catch.hpp>

using namespace keyhour;
using namespace keyhour::study;

namespace {

/// An L of 6 x 6 m without its corner beyond (3, 3), and a bench 0.8 m high from (1, 1) to (2, 2).
room::Room l_of_a_room() {
    room::Room r;
    r.floor = {{0, 0}, {6, 0}, {6, 3}, {3, 3}, {3, 6}, {0, 6}};
    r.walls = {"a", "b", "c", "d", "e", "f"};
    r.height_m = 3;
    r.objects = {{"bench", {{1, 1}, {2, 1}, {2, 2}, {1, 2}}, 0.8}};
    return r;
}

}  // namespace

TEST_CASE("round a corner a wall stands between, past it nothing does", "[room]") {
    const room::Room r = l_of_a_room();
    const auto round = what_stands_between(r, {5, 2, 1}, {1, 5, 1});
    REQUIRE(round);
    CHECK(round->kind == room::Edge::wall);
    CHECK((round->index == 2 || round->index == 3));
    CHECK_FALSE(what_stands_between(r, {5, 0.5, 1}, {0.5, 5, 1}));
    CHECK_FALSE(what_stands_between(r, {5, 1, 1}, {4, 2.5, 1}));
    // Walls end at their corners: this way crosses the line of wall 3 below it, where the room is.
    CHECK_FALSE(what_stands_between(r, {2.5, 0.5, 1}, {5, 2.5, 1}));
}

TEST_CASE("an object stands between below its height, and none beside the way", "[room]") {
    const room::Room r = l_of_a_room();
    const auto below = what_stands_between(r, {0.5, 1.5, 0.5}, {2.5, 1.5, 0.5});
    REQUIRE(below);
    CHECK(below->kind == room::Edge::object);
    CHECK(below->index == 0);
    CHECK_FALSE(what_stands_between(r, {0.5, 1.5, 0.9}, {2.5, 1.5, 0.9}));
    // Down across it: over its near side at 1.2 m, its far one at 0.6 m.
    CHECK(what_stands_between(r, {0.5, 1.5, 1.5}, {2.5, 1.5, 0.3}));
    CHECK_FALSE(what_stands_between(r, {0.5, 2.5, 0.5}, {2.5, 2.5, 0.5}));
    CHECK_FALSE(what_stands_between(r, {0.2, 1.5, 0.5}, {0.8, 1.5, 0.5}));  // ends before it
}
