#include "words/levels.hpp"

#include <catch2/catch.hpp>

#include "words/digits.hpp"

using namespace keyhour::words;

TEST_CASE("a level has two digits", "[words]") {
    CHECK(level(0) == "0 lx");
    CHECK(level(0.543) == "0.54 lx");
    CHECK(level(5.24) == "5.2 lx");
    CHECK(level(314) == "310 lx");
    CHECK(level(5240) == "5.2 klx");
    CHECK(level(63400) == "63 klx");
    CHECK(level(996) == "1.0 klx");
    CHECK(level_range(63000, 55400) == "63 to 55 klx");
    CHECK(level_range(540, 1100) == "0.54 to 1.1 klx");
    CHECK(level_range(20, 1100) == "20 lx to 1.1 klx");
    CHECK(level_range(310, 314) == "310 lx");
}

TEST_CASE("a ratio to a fill that is good to a factor 2 says about", "[words]") {
    CHECK(ratio(85.3, 85.3) == "about 85:1");
    CHECK(ratio(118, 49.2) == "about 120:1 to 49:1");
    CHECK(ratio(4, 4) == "about 4.0:1");
}

TEST_CASE("stops are told in thirds or tenths", "[words]") {
    CHECK(thirds(5.7) == "5 2/3");
    CHECK(thirds(0.3) == "1/3");
    CHECK(thirds_range(2, 2.1) == "2");
    CHECK(signed_stops(-0.04) == "0.0");
    CHECK(signed_stops(1.24) == "+1.2");
    CHECK(t_stop(4) == "T4");
    CHECK(range(6.93, 5.61, 1) == "6.9 to 5.6");
}
