#include "read/starter_file.hpp"

#include <catch2/catch.hpp>

#include "read/location_file.hpp"
#include "read/rigging_file.hpp"

using namespace keyhour;

TEST_CASE("the starter file is a sound location, which says that it is the starter", "[read]") {
    const auto read = read::read_location_text(read::starter_file({}), "new");
    if (!read) FAIL(read::text(read.error()));
    CHECK(read->questions ==
          std::vector<std::string>{"this is still the starter: measure the floor, which way a wall "
                                   "faces, window \"key window\" and mark \"bench\" before you "
                                   "trust an answer."});
    CHECK(read->room->windows.size() == 1);
    CHECK(read->room->cameras.size() == 1);
}

TEST_CASE("the starter file stays sound when its commented lines are used", "[read]") {
    std::string text = read::starter_file({});
    for (const char* key : {"horizon", "bars", "[[", "name", "footprint", "height_m", "at ",
                            "camera_bearing", "wants", "place", "sheet", "minutes"}) {
        const std::string commented = std::string{"\n# "} + key;
        for (std::size_t at = 0; (at = text.find(commented, at)) != std::string::npos; ++at) {
            text.erase(at + 1, 2);
        }
    }
    const auto read = read::read_location_text(text, "new");
    if (!read) FAIL(read::text(read.error()));
    CHECK(read->room->windows[0].bars.level == 2);
    CHECK(read->room->objects.size() == 1);
    CHECK(read->room->buildings.size() == 1);
    CHECK(read->spots.size() == 1);
    CHECK(read->lamps.size() == 1);
    CHECK_FALSE(read->site.horizon.is_level());
    const auto rigging = read::read_rigging_text(text, "new");
    REQUIRE(rigging);
    CHECK(rigging->tasks.size() == 1);
}

TEST_CASE("a starter that was measured in part names what was not", "[read]") {
    std::string text = read::starter_file({});
    const auto change = [&](const std::string& from, const std::string& to) {
        const std::size_t at = text.find(from);
        REQUIRE(at != std::string::npos);
        text.replace(at, from.size(), to);
        const auto read = read::read_location_text(text, "new");
        if (!read) FAIL(read::text(read.error()));
        return read->questions;
    };
    CHECK(
        change("faces = 180", "faces = 196") ==
        std::vector<std::string>{"some of this is still the starter's: measure the floor, window "
                                 "\"key window\" and mark \"bench\" before you trust an answer."});
    CHECK(
        change("sill_m = 0.9", "sill_m = 0.93") ==
        std::vector<std::string>{"some of this is still the starter's: measure the floor and mark "
                                 "\"bench\" before you trust an answer."});
    // A room may have the starter's floor by chance.
    CHECK(change("at = [2.5, 1.6]", "at = [2.2, 1.6]").empty());
}

TEST_CASE("any name goes into the starter file unharmed", "[read]") {
    read::Starter starter;
    starter.name = "The \"Old\" Forge \\ Kov\u00e1rna";
    starter.position = "45.1S 171E";
    starter.time_zone = "Pacific/Auckland";
    const auto read = read::read_location_text(read::starter_file(starter), "new");
    if (!read) FAIL(read::text(read.error()));
    CHECK(read->site.name == starter.name);
    CHECK(read->site.observer.latitude < Angle{});
    starter.name = "two\nlines";
    CHECK_FALSE(read::read_location_text(read::starter_file(starter), "new").has_value());
}
