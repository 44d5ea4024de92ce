#include "keyhour/site/position.hpp"

#include <catch2/catch.hpp>

using namespace keyhour::site;

// One place in every notation that GeographicLib 2.1.2 documents for GeoCoords; the UTM and MGRS
// figures are GeographicLib's own, so this checks our reading, not the projection.
TEST_CASE("a position is read in every common notation", "[site]") {
    const char* text = GENERATE(
        "52.9536N 1.1505W", "52.9536 -1.1505", "52.9536, -1.1505", "1.1505W 52.9536N",
        "N52.9536 W1.1505", "52:57:13N 1:9:2W", "52d57'13\"N 1d9'2\"W", "52d57.22N 1d9.03W",
        "52\xc2\xb0"
        "57'13\"N 1\xc2\xb0"
        "9'2\"W",
        "52.9536 degrees NORTH, 1.1505 degrees WEST", "52.9536 NORTH 1.1505 WEST",
        "52.9536 N, 1.1505 W", "1.1505 W 52.9536 N", "52 deg 57.22 min N, 1 deg 9.03 min W",
        "52 degrees 57 minutes 13 seconds north 1 9 2 west", "  52.9536n   1.1505w ");
    const auto found = read_position(text);
    REQUIRE(found);
    CHECK(found->latitude.in_degrees() == Approx(52.9536).margin(0.0002));
    CHECK(found->longitude.in_degrees() == Approx(-1.1505).margin(0.0002));
}

TEST_CASE("a position is read from a grid", "[site]") {
    const char* text =
        GENERATE("30n 624247 5870973", "624247 5870973 30n", "30UXD2424770973", "30UXD2470");
    const auto found = read_position(text);
    REQUIRE(found);
    CHECK(found->latitude.in_degrees() == Approx(52.9739).margin(0.01));
    CHECK(found->longitude.in_degrees() == Approx(-1.1496).margin(0.01));
}

TEST_CASE("what is no position says what was found and what is accepted", "[site]") {
    const auto [text, why] = GENERATE(table<const char*, const char*>({
        {"", "position \"\" is empty; accepted: "},
        {"  ", "is empty"},
        {"91 0", "has latitude 91, which is not in -90..90"},
        {"151.2 -33.87",
         "has latitude 151.2, which is not in -90..90; latitude stands first: write \"-33.87 "
         "151.2\"?"},
        {"91N 0E", "has latitude 91, which is not in -90..90"},
        {"0E 91N", "has latitude 91, which is not in -90..90"},
        {"-90.5, 12", "has latitude -90.5, which is not in -90..90"},
        {"0N 361E", "has longitude 361, which is not in -180..180; did you mean 1?"},
        {"10 181", "has longitude 181, which is not in -180..180; did you mean -179?"},
        {"10 1000", "has longitude 1000, which is not in -180..180; accepted"},
        {"nan nan", "is not a number"},
        {"INV", "is not a number"},
        {"inf inf", "cannot be read"},
        {"30UXD", "is an MGRS square of 10 km or more; give 1 km or finer"},
        {"30UXD24", "is an MGRS square of 10 km or more; give 1 km or finer"},
        {"31N", "is an MGRS square of 10 km or more"},
        {"52.95", "is one number where two are needed"},
        {"52.95N", "is one number where two are needed"},
        {"52.95N 1.15N", "cannot be read (Both 52.95N and 1.15N interpreted as latitudes)"},
        {"52.5 57 13 N 1 9 2 W", "has more than two angles, or a space or comma inside an angle"},
        {"52 57 13 1 N 1 9 2 W", "has more than two angles, or a space or comma inside an angle"},
        {"52 deg 57.22 min N, 1 deg 61 min W", "cannot be read"},
        {"91 degrees north 1 E", "has latitude 91, which is not in -90..90"},
        {"52 N 1 N", "cannot be read (Both "},
        {"52,9536 1,1505", "has more than two angles, or a space or comma inside an angle"},
        {"52d61'N 1W", "not in range [0, 60)"},
        {"the old mill", "cannot be read"},
        {"somewhere", "cannot be read"},
    }));
    const auto found = read_position(text);
    REQUIRE_FALSE(found);
    INFO(found.error());
    CHECK(found.error().find(why) != std::string::npos);
    CHECK(found.error().find("accepted: latitude and longitude as") != std::string::npos);
    CHECK(found.error().find("and letter") == std::string::npos);  // no talk of MGRS bands
}

TEST_CASE("the poles and the date line are places", "[site]") {
    CHECK(read_position("90N 0E")->latitude.in_degrees() == Approx(90));
    CHECK(read_position("-90 12")->latitude.in_degrees() == Approx(-90));
    CHECK(std::abs(read_position("0N 180E")->longitude.in_degrees()) == Approx(180));
    CHECK(read_position("17.5S 179.5W")->longitude.in_degrees() == Approx(-179.5));
}

TEST_CASE("a position is read back in words, in degrees and in minutes", "[site]") {
    const Coordinates press = *read_position("52.9536N 1.15W");
    CHECK(in_words(press) == "52.9536 degrees NORTH, 1.15 degrees WEST");
    CHECK(degrees_and_minutes(press) == "52 deg 57.22 min N, 1 deg 9.00 min W");
    CHECK(in_words(*read_position("-33 151")) == "33 degrees SOUTH, 151 degrees EAST");
    CHECK(degrees_and_minutes(*read_position("0.99999N 9.99999E")) ==
          "1 deg 0.00 min N, 10 deg 0.00 min E");
}
