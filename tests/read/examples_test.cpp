// The example locations: sound, without open questions, and as different as README says.
#include <catch2/catch.hpp>
#include <filesystem>

#include "read/location_file.hpp"

using namespace keyhour;

namespace {

site::Location example(const std::string& name) {
    auto read = read::read_location(KEYHOUR_LOCATIONS "/" + name);
    if (!read) FAIL(read::text(read.error()));
    return *std::move(read);
}

}  // namespace

TEST_CASE("every example location is sound and leaves no question", "[read]") {
    int count = 0;
    for (const auto& entry : std::filesystem::directory_iterator{KEYHOUR_LOCATIONS}) {
        CAPTURE(entry.path());
        if (entry.path().extension() != ".toml") continue;  // what they read beside them
        const site::Location place = example(entry.path().filename().string());
        CHECK(place.questions.empty());
        CHECK(place.room.has_value());
        ++count;
    }
    CHECK(count == 3);
}

TEST_CASE("the weaver's yard has no room, but houses, a tree and a surveyed skyline", "[read]") {
    const site::Location place = example("mill-green/mill-green.toml");
    CHECK(place.questions.empty());
    CHECK_FALSE(place.room.has_value());
    REQUIRE(site::buildings(place).size() == 3);
    CHECK(place.imported_buildings == 2);
    CHECK(site::buildings(place)[2].height_m == Approx(22 * 0.3048));
    CHECK(place.trees.size() == 1);
    CHECK(place.site.horizon.points().size() == 9);
    CHECK(place.site.horizon_source.magnetic);
    // The chapel's south-west corner lies 29.7 m west and 22.3 m south of the yard's middle.
    CHECK(site::buildings(place)[1].footprint[0].x == Approx(-29.7).margin(0.2));
    CHECK(site::buildings(place)[1].footprint[0].y == Approx(-22.3).margin(0.2));
}

TEST_CASE("the hat works lies in the south, in an L, with four windows", "[read]") {
    const site::Location place = example("flax-road.toml");
    CHECK(place.site.observer.latitude < Angle{});
    CHECK(place.site.observer.latitude.in_degrees() == Approx(-(45 + 5 / 60.0 + 50 / 3600.0)));
    CHECK(place.room->floor.size() == 6);
    CHECK(place.room->windows.size() == 4);
    CHECK(place.room->marks.size() == 2);
    CHECK(place.room->cameras.size() == 2);
    CHECK(place.room->buildings.size() == 2);
    CHECK(place.room->cameras[1].aims_at == 1);
    // The compass points far east there; the yard faces north by east.
    CHECK(place.room->bearing.declination.in_degrees() == Approx(25).margin(2));
    CHECK(place.room->bearing.faces_true().from_north.in_degrees() == Approx(12).margin(2));
}

TEST_CASE("the boat shed lies beyond 60 degrees north, its corners listed clockwise", "[read]") {
    const site::Location place = example("sundet.toml");
    CHECK(place.site.observer.latitude > Angle::degrees(60));
    CHECK(room::signed_area(place.room->floor) < 0);
    CHECK(place.room->windows[0].width_m == Approx(2.1));
    CHECK(place.room->windows[2].cover == room::Cover::blackout);
    CHECK(place.spots[0].position.has_value());
    // The slip end looks out to the west-south-west, a quarter turn to the right of the shore.
    CHECK(room::wall_faces(*place.room, 0).from_north.in_degrees() == Approx(172 + 90));
}
