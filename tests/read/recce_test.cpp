#include <catch2/catch.hpp>

#include "read/location_file.hpp"
#include "read/read_recce.hpp"

using namespace keyhour;
using namespace std::chrono_literals;

namespace {

std::string place(const std::string& site, const std::string& bearing) {
    return "format = 1\n[site]\nname = \"Rope walk\"\nposition = \"52N 1W\"\n"
           "time_zone = \"Europe/London\"\n" +
           site + "[room]\nfloor = [[0, 0], [6, 0], [6, 4], [0, 4]]\n" +
           "walls = [\"lane\", \"yard\", \"back\", \"party\"]\nheight_m = 3\nbearing = { wall = " +
           "\"lane\", north = \"true\", " + bearing + " }\n";
}

}  // namespace

TEST_CASE("the recce says units, day and doubt of the bearing", "[read]") {
    const auto recce = read::read_recce_text(
        place("units = \"ft\"\n", "faces = 196, within_deg = 3, measured = \"2026-02-10\""));
    CHECK(recce.units == site::Units::feet);
    CHECK(recce.bearing_within_given);
    REQUIRE(recce.bearing_measured);
    CHECK(*recce.bearing_measured == site::LocalDate{date::year{2026} / 2 / 10});

    const auto bare = read::read_recce_text(place("", "faces = 196"));
    CHECK(bare.units == site::Units::metres);
    CHECK_FALSE(bare.bearing_within_given);
    CHECK_FALSE(bare.bearing_measured);
    CHECK(read::read_recce_text(place("", "faces = [193, 199]")).bearing_within_given);
    CHECK(read::read_recce("no such file").units == site::Units::metres);
}

TEST_CASE("units of a site are m or ft", "[read]") {
    CHECK(read::read_location_text(place("units = \"ft\"\n", "faces = 196"), "a.toml"));
    const auto wrong =
        read::read_location_text(place("units = \"yards\"\n", "faces = 196"), "a.toml");
    REQUIRE_FALSE(wrong);
    CHECK(wrong.error().front().line == 6);
}
