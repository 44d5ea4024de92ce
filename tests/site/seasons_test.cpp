#include "keyhour/site/seasons.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace keyhour::site;
using namespace date::literals;
using keyhour::room::Building;

namespace {

Tree tree(date::month first, date::month last, double opacity = 0.8, double bare = 0.3) {
    Tree t;
    t.name = "tree";
    t.footprint = {{0, 0}, {1, 0}, {0, 1}};
    t.height_m = 10;
    t.opacity = opacity;
    t.bare_opacity = bare;
    t.first_leaf = first;
    t.last_leaf = last;
    return t;
}

}  // namespace

TEST_CASE("a tree is in leaf from the first day of its first month to the last of its last",
          "[site]") {
    const Tree lime = tree(date::May, date::October);
    CHECK_FALSE(in_leaf(lime, 2026_y / 4 / 30));
    CHECK(in_leaf(lime, 2026_y / 5 / 1));
    CHECK(in_leaf(lime, 2026_y / 10 / 31));
    CHECK_FALSE(in_leaf(lime, 2026_y / 11 / 1));
}

TEST_CASE("in the south the months of leaf run over the new year", "[site]") {
    const Tree plane = tree(date::October, date::April);
    CHECK(in_leaf(plane, 2026_y / 12 / 31));
    CHECK(in_leaf(plane, 2026_y / 1 / 1));
    CHECK(in_leaf(plane, 2026_y / 4 / 30));
    CHECK_FALSE(in_leaf(plane, 2026_y / 5 / 1));
    CHECK_FALSE(in_leaf(plane, 2026_y / 9 / 30));
}

TEST_CASE("the seasons cover the range without gap or overlap", "[site]") {
    Location place;
    place.trees = {tree(date::May, date::October), tree(date::April, date::September),
                   tree(date::March, date::November, 0.4),  // never counts as closed
                   tree(date::January, date::December)};
    const auto list = seasons(place, 2026_y / 2 / 10, 2026_y / 12 / 5);
    REQUIRE(list.size() == 5);
    CHECK(list.front().first == 2026_y / 2 / 10);
    CHECK(list[0].last == 2026_y / 3 / 31);
    CHECK(list[1].first == 2026_y / 4 / 1);
    CHECK(list[2].first == 2026_y / 5 / 1);
    CHECK(list[2].last == 2026_y / 9 / 30);
    CHECK(list[3].last == 2026_y / 10 / 31);
    CHECK(list[4].first == 2026_y / 11 / 1);
    CHECK(list.back().last == 2026_y / 12 / 5);
    CHECK(seasons(Location{}, 2026_y / 1 / 1, 2027_y / 12 / 31).size() == 1);
    CHECK(seasons(place, 2026_y / 6 / 1, 2026_y / 6 / 1).size() == 1);
}

TEST_CASE("a tree keeps its place among the buildings all year", "[site]") {
    Location place;
    place.buildings_without_room = {{"barn", {{5, 5}, {6, 5}, {6, 6}}, 4, {}}};
    place.trees = {tree(date::May, date::October), tree(date::January, date::December)};
    const auto winter = buildings(in_season(place, 2026_y / 1 / 1));
    const auto summer = buildings(in_season(place, 2026_y / 7 / 1));
    REQUIRE(winter.size() == 3);
    REQUIRE(summer.size() == 3);
    CHECK(winter[1].footprint.empty());
    CHECK(summer[1].footprint.size() == 3);
    CHECK(winter[2].footprint.size() == 3);
    CHECK(words(winter[0]) == "building barn");
    CHECK(words(winter[1]) == "tree tree");
}

TEST_CASE("a round crown keeps its area", "[site]") {
    const auto crown = round_crown({3, -4}, 8);
    CHECK(keyhour::room::signed_area(crown) == Approx(3.14159265358979 * 16));
    for (const auto p : crown)
        CHECK(keyhour::room::length(p - keyhour::room::Point2{3, -4}) == Approx(4).epsilon(0.02));
}
