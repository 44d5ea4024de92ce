#include "tell/message.hpp"

#include <catch2/catch.hpp>

using namespace keyhour::tell;

TEST_CASE("a message keeps to 140 characters and leaves out what does not fit", "[tell]") {
    CHECK(message({"key 12:58", ", sure"}) == "key 12:58, sure");
    CHECK(message({std::string(150, 'a')}) == std::string(140, 'a'));
    CHECK(message({std::string(135, 'a'), "too long to fit", "bc"}) ==
          std::string(135, 'a') + "bc");
    // Characters, not bytes: an umlaut counts once and is never cut in two.
    std::string umlauts;
    for (int i = 0; i < 150; ++i)
        umlauts += "\u00e4";
    CHECK(message({umlauts}) == umlauts.substr(0, 280));
}

TEST_CASE("a list in a message says how many did not fit", "[tell]") {
    CHECK(message_of_list("lock", {"a", "b"}) == "lock: a, b");
    const std::string long_item(58, 'x');
    CHECK(message_of_list("lock", {long_item, long_item, long_item, "y"}) ==
          "lock: " + long_item + ", " + long_item + " and 2 more");
}
