#include "keyhour/site/zone_at.hpp"

#include <catch2/catch.hpp>

using namespace keyhour::site;

TEST_CASE("an abbreviation of a zone is answered with the zone of that place", "[site]") {
    // Where the clocks of these towns are: common knowledge, no source; the zones by IANA's table.
    const auto [text, position, zone] = GENERATE(table<const char*, const char*, const char*>({
        {"AEST", "33.7S 150.3E", "Australia/Sydney"},    // the Blue Mountains
        {"AEDT", "42.9S 147.3E", "Australia/Hobart"},    // by its summer clock
        {"AEST", "27.5S 152.9E", "Australia/Brisbane"},  // no summer time
        {"PST", "34.1N 118.2W", "America/Los_Angeles"},  //
        {"CST", "41.9N 87.6W", "America/Chicago"},       // and not China's
        {"CST", "31.2N 121.5E", "Asia/Shanghai"},        //
        {"BST", "51.5N 0.1W", "Europe/London"},          //
        {"IST", "53.3N 6.3W", "Europe/Dublin"},          // and not India's
    }));
    INFO(text << " at " << position);
    const auto place = read_position(position);
    REQUIRE(place);
    CHECK(zone_that_says(text, *place) == zone);
    const auto refused = zone_at(text, *place);
    REQUIRE_FALSE(refused);
    CHECK(refused.error() == std::string{"time zone \""} + text +
                                 "\" is an abbreviation that tells no rules of summer time; for "
                                 "this position write \"" +
                                 zone + "\", the nearest zone whose clocks say " + text);
}

TEST_CASE(
    "a zone that is known is as without a place, and one that nobody's clock says gets no guess",
    "[site]") {
    const auto place = read_position("33.7S 150.3E");
    CHECK(zone_at("Australia/Sydney", *place)->name() == "Australia/Sydney");
    CHECK(zone_at("Europe/Lodon", *place).error() == Zone::named("Europe/Lodon").error());
    // No continent is guessed: the nearest name to AEST is one of America's.
    for (const auto& refused : {zone_at("XQZT", *place), zone_at("AEST", std::nullopt),
                                zone_at("AEST", *read_position("52.95N 1.15W"))}) {
        REQUIRE_FALSE(refused);
        CHECK(refused.error().find("tells neither the continent nor its rules") !=
              std::string::npos);
        CHECK(refused.error().find("did you mean") == std::string::npos);
    }
}
