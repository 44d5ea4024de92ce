#include "../../src/site/zone_files.hpp"

#include <catch2/catch.hpp>

using namespace keyhour::site;

// RFC 8536, appendix B.2, shows a file that ends so.
TEST_CASE("the last line of a zone file is its rule for all later years", "[site]") {
    CHECK(last_line_of_zone_file(std::string{"TZif2...\n", 9} + "HST10\n") == "HST10");
    CHECK(last_line_of_zone_file("TZif3....\nGMT0BST,M3.5.0/1,M10.5.0\n") ==
          "GMT0BST,M3.5.0/1,M10.5.0");
    CHECK(last_line_of_zone_file("TZif1....\nHST10\n").empty());  // version 1 has none
    CHECK(last_line_of_zone_file("TZif2....\nHST10").empty());    // cut short
    CHECK(last_line_of_zone_file("").empty());
    CHECK(last_line_of_zone_file("nonsense").empty());
}

// ISO 6709, as zone1970.tab describes it in its own head.
TEST_CASE("coordinates of the zone table are read", "[site]") {
    const auto london = read_iso6709("+513030-0000731");
    REQUIRE(london);
    CHECK(london->latitude_deg == Approx(51 + 30.0 / 60 + 30.0 / 3600));
    CHECK(london->longitude_deg == Approx(-(7.0 / 60 + 31.0 / 3600)));
    const auto andorra = read_iso6709("+4230+00131");
    REQUIRE(andorra);
    CHECK(andorra->latitude_deg == Approx(42.5));
    CHECK(andorra->longitude_deg == Approx(1 + 31.0 / 60));
    for (const char* bad : {"", "+", "+4230", "4230+00131", "+42x0+00131", "+423+00131"})
        CHECK_FALSE(read_iso6709(bad));
}
