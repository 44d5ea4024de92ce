#include "words/levels.hpp"

#include <catch2/catch.hpp>

#include "words/digits.hpp"

using namespace keyhour::words;
namespace light = keyhour::light;

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

TEST_CASE("a ratio to a fill that is good to a factor 2 has one digit", "[words]") {
    CHECK(ratio(85.3, 85.3) == "about 90:1");
    CHECK(ratio(90.4, 90.4) == "about 90:1");
    CHECK(ratio(118, 49.2) == "about 100:1 to 50:1");
    CHECK(ratio(4, 4) == "about 4:1");
    CHECK(ratio(0.34, 0.34) == "about 0.3:1");
    CHECK(fill_level(314) == "about 300 lx");
    CHECK(fill_level(0) == "about 0 lx");
    CHECK(fill_range(1640, 380) == "about 2 to 0.4 klx");
    CHECK(stops_over_fill(6.4, 6.4) == "about 6 stops");
    CHECK(stops_over_fill(6.6, 1.2) == "about 7 to 1 stops");
    CHECK(stops_over_fill(0.9, 1.1) == "about 1 stop");
    CHECK(stops_over_fill(-0.3, -0.3) == "about 0 stops");
}

TEST_CASE("a level that the air may change by more than a stop has one digit", "[words]") {
    CHECK(level(light::Band{44700, 74300, 92000}) == "70 klx");  // 30 degrees high
    CHECK(level(light::Band{61400, 88100, 102500}) == "88 klx");
    CHECK(level_range(light::Band{44700, 74300, 92000}, light::Band{6520, 26500, 47800}) ==
          "70 to 30 klx");
    CHECK(spread(light::Band{6520, 26500, 47800}) == "7 to 50 klx");
    CHECK(spread(light::Band{61400, 88100, 102500}) == "61 to 100 klx");
}

TEST_CASE("exposure values are told in thirds", "[words]") {
    CHECK(exposure_values(14.6, 14.6) == "14 2/3");
    CHECK(exposure_values(-0.3, 0.9) == "-1/3 to 1");
    CHECK(exposure_values(-0.1, 0.1) == "0");
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
