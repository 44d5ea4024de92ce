#include "keyhour/room/plan.hpp"

#include <catch2/catch.hpp>

using namespace keyhour::room;

TEST_CASE("a ring's area is positive when its corners run counter-clockwise", "[room]") {
    const Ring square{{0, 0}, {2, 0}, {2, 3}, {0, 3}};
    CHECK(signed_area(square) == Approx(6));
    CHECK(signed_area({square.rbegin(), square.rend()}) == Approx(-6));
}

TEST_CASE("a point on the edge counts as inside", "[room]") {
    const Ring ell{{0, 0}, {4, 0}, {4, 2}, {2, 2}, {2, 4}, {0, 4}};
    CHECK(contains(ell, {2, 3}));
    CHECK(contains(ell, {1, 1}));
    CHECK_FALSE(contains(ell, {3, 3}));
}

TEST_CASE("a floor like a bow tie crosses itself", "[room]") {
    CHECK(crosses_itself({{0, 0}, {2, 2}, {2, 0}, {0, 2}}));
    CHECK(crosses_itself({{0, 0}, {2, 0}, {1, 0}, {1, 2}}));
    CHECK(crosses_itself({{0, 0}, {2, 0}, {2, 0}, {0, 2}}));
    CHECK_FALSE(crosses_itself({{0, 0}, {4, 0}, {4, 2}, {2, 2}, {2, 4}, {0, 4}}));
}
