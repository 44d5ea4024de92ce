#include "words/length.hpp"

#include <catch2/catch.hpp>

using namespace keyhour::words;
using keyhour::site::Units;

// A foot is 0.3048 m and an inch 0.0254 m, exactly (international yard and pound agreement, 1959).
TEST_CASE("lengths in feet go to the half inch, and never have decimals", "[words]") {
    CHECK(length(1.27, Units::feet) == "4 ft 2 in");
    CHECK(length(1.2827, Units::feet) == "4 ft 2 1/2 in");
    CHECK(length(5.4864, Units::feet) == "18 ft");
    CHECK(length(0.0127, Units::feet) == "1/2 in");
    CHECK(length(0.1651, Units::feet) == "6 1/2 in");
    CHECK(length(0, Units::feet) == "0 in");
    CHECK(length(-1.27, Units::feet) == "-4 ft 2 in");
    CHECK(length(0.3, Units::feet) == "1 ft");  // 11.8 in: the nearest half inch is a foot
    CHECK(length(1.2764, Units::feet) == "4 ft 2 1/2 in");
    CHECK(length(1.2762, Units::feet) == "4 ft 2 in");
}

TEST_CASE("what must cover is rounded up, what must hold down", "[words]") {
    CHECK(length(1.2701, Units::feet, 2, Rounding::up) == "4 ft 2 1/2 in");
    CHECK(length(1.27, Units::feet, 2, Rounding::up) == "4 ft 2 in");
    CHECK(length(1.2826, Units::feet, 2, Rounding::down) == "4 ft 2 in");
    CHECK(size(1.401, 1.6, Units::metres, Rounding::up) == "1.41 x 1.60 m");
    CHECK(size(1.4, 1.6, Units::metres, Rounding::up) == "1.40 x 1.60 m");
    CHECK(size(1.016, 1.2192, Units::feet, Rounding::up) == "3 ft 4 in x 4 ft");
}

TEST_CASE("lengths in metres have the decimals asked for", "[words]") {
    CHECK(length(2.414, Units::metres) == "2.41 m");
    CHECK(length(2.414, Units::metres, 1) == "2.4 m");
    CHECK(length(-0.001, Units::metres) == "0.00 m");
    CHECK(small_length(0.61, Units::metres) == "61 cm");
    CHECK(small_length(0.61, Units::feet) == "2 ft");
}

// Common practice, no source: within ten metres a stand is put by tape, farther off by pacing.
TEST_CASE("far off, where a stand is put goes to the foot or the decimetre", "[words]") {
    CHECK(placed_length(2.414, Units::metres) == "2.41 m");
    CHECK(placed_length(54.064, Units::metres) == "54.1 m");
    CHECK(placed_length(2.413, Units::feet) == "7 ft 11 in");
    CHECK(placed_length(54.0639, Units::feet) == "177 ft");
    CHECK(placed_length(9.99, Units::metres) == "9.99 m");
    CHECK(placed_length(9.999, Units::metres) == "10.0 m");
}

TEST_CASE("areas and speeds follow the units", "[words]") {
    CHECK(area(4.48, Units::metres) == "4.5 m2");
    CHECK(area(4.48, Units::feet) == "48 sq ft");
    CHECK(speed(0.022, Units::metres) == "2.2 cm/min");
    CHECK(speed(0.0254, Units::feet) == "1.0 in/min");
}
