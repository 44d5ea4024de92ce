#include "../../src/site/zone_files.hpp"

#include <catch2/catch.hpp>

#include "keyhour/site/zone.hpp"

using namespace keyhour::site;

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

TEST_CASE("a table among the zone files is no zone", "[site]") {
    for (const char* name : {"tzdata.zi", "leapseconds", "zone.tab", "iso3166.tab"}) {
        const auto zone = Zone::named(name);
        REQUIRE_FALSE(zone);
        CHECK(zone.error().find(name) != std::string::npos);
    }
}
