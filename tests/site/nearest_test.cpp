#include "keyhour/site/nearest.hpp"

#include <catch2/catch.hpp>
#include <vector>

using keyhour::site::edit_distance;
using keyhour::site::nearest;

TEST_CASE("edit distance counts letters put in, left out, changed and exchanged", "[site]") {
    CHECK(edit_distance("sill", "sill") == 0);
    CHECK(edit_distance("sil", "sill") == 1);
    CHECK(edit_distance("sikl", "sill") == 1);
    CHECK(edit_distance("slil", "sill") == 1);
    CHECK(edit_distance("SILL", "sill") == 0);
    CHECK(edit_distance("", "sill") == 4);
    CHECK(edit_distance("kitten", "sitting") == 3);  // the usual textbook pair
}

TEST_CASE("the nearest word is offered only if it may be meant", "[site]") {
    const std::vector<std::string> known{"sun", "day", "patch", "key", "lock", "check", "new"};
    CHECK(nearest("dya", known) == "day");
    CHECK(nearest("pacth", known) == "patch");
    CHECK(nearest("chek", known) == "check");
    CHECK_FALSE(nearest("elephant", known));
    CHECK_FALSE(nearest("", known));
    CHECK_FALSE(nearest(std::string(10000, 'x'), known));
}
