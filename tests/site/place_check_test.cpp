#include "keyhour/site/place_check.hpp"

#include <catch2/catch.hpp>

using namespace keyhour::site;

namespace {

std::optional<PlaceDoubt> doubt(const char* position, const char* zone) {
    return check_place(*read_position(position), *Zone::named(zone));
}

bool holds(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("a position that fits its zone raises no doubt", "[site]") {
    const auto [position, zone] = GENERATE(table<const char*, const char*>({
        {"52.9536N 1.1505W", "Europe/London"},
        {"33.87S 151.2E", "Australia/Sydney"},
        {"40.7N 74W", "America/New_York"},
        {"39.5N 76E", "Asia/Shanghai"},         // far west of a zone that spans five hours
        {"1.9N 157.4W", "Pacific/Kiritimati"},  // UTC+14, east of the date line
        {"69.2N 51.1W", "America/Nuuk"},
        {"51.5N 0E", "GMT0BST,M3.5.0/1,M10.5.0"},
        {"17.7S 178E", "Pacific/Fiji"},
    }));
    INFO(position);
    CHECK_FALSE(doubt(position, zone));
}

TEST_CASE("latitude and longitude swapped is an error where the hours tell", "[site]") {
    const auto found = doubt("74W 40.7N", "America/New_York");  // letters say it: no slip
    CHECK_FALSE(found);
    const auto swapped = doubt("-74 40.7", "America/New_York");
    REQUIRE(swapped);
    CHECK(swapped->is_error);
    CHECK(
        swapped->message ==
        "longitude 40.7 EAST is about 2.7 h east of Greenwich; the zone is America/New_York "
        "(UTC-05:00; its table has 40 deg 42.85 min N, 74 deg 0.38 min W). Latitude and longitude "
        "swapped? That would be 40.7 degrees NORTH, 74 degrees WEST: write \"40.7N 74W\".");
    const auto london = doubt("-1.15 52.95", "Europe/London");
    REQUIRE(london);
    CHECK(london->is_error);
    CHECK(holds(london->message, "swapped?"));
}

TEST_CASE("a longitude of the wrong sign is an error where the hours tell", "[site]") {
    const auto typed_east = doubt("40.7N 74E", "America/New_York");
    REQUIRE(typed_east);
    CHECK(typed_east->is_error);
    CHECK(holds(typed_east->message,
                "West typed as east? That would be 40.7 degrees NORTH, 74 "
                "degrees WEST: write \"40.7N 74W\"."));
    const auto typed_west = doubt("33.87S 151.2W", "Australia/Sydney");
    REQUIRE(typed_west);
    CHECK(typed_west->is_error);
    CHECK(holds(typed_west->message, "East typed as west?"));
    // A rule has no table: the offset alone tells.
    const auto by_rule = doubt("40.7N 74E", "EST5EDT,M3.2.0,M11.1.0");
    REQUIRE(by_rule);
    CHECK(by_rule->is_error);
}

TEST_CASE("far apart with no slip that explains it is a question", "[site]") {
    const auto found = doubt("52.95N 1.15W", "Asia/Tokyo");
    REQUIRE(found);
    CHECK_FALSE(found->is_error);
    CHECK(holds(found->message, "Is the zone right?"));
    // UTC is chosen for its clock and says nothing of a place.
    const auto utc = doubt("34N 118W", "UTC");
    REQUIRE(utc);
    CHECK_FALSE(utc->is_error);
}

TEST_CASE("a hemisphere lost at equal hours is a question, by the zone table", "[site]") {
    const auto south = doubt("33.87N 151.2E", "Australia/Sydney");
    REQUIRE(south);
    CHECK_FALSE(south->is_error);
    CHECK(holds(south->message, "South typed as north?"));
    const auto berlin = doubt("13.4N 52.5E", "Europe/Berlin");  // 2.5 h: not three
    REQUIRE(berlin);
    CHECK_FALSE(berlin->is_error);
    CHECK(holds(berlin->message, "swapped?"));
}
