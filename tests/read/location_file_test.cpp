#include "read/location_file.hpp"

#include <fmt/format.h>

#include <catch2/catch.hpp>

using namespace keyhour;
using namespace keyhour::read;

namespace {

site::Location read_or_fail(std::string_view text) {
    auto read = read_location_text(text, "t.toml");
    if (!read) FAIL(read::text(read.error()));
    return *std::move(read);
}

const char* const site_alone =
    "format = 1\n"
    "[site]\n"
    "position = \"52.9536N 1.1505W\"\n"
    "time_zone = \"Europe/London\"\n";

std::string room_with(const std::string& bearing, const std::string& rest = "") {
    return fmt::format(
        "{}"
        "[room]\n"
        "floor = [[0, 0], [5, 0], [5, 4], [0, 4]]\n"
        "walls = [\"a\", \"b\", \"c\", \"d\"]\n"
        "height_m = 3\n"
        "bearing = {}\n"
        "{}",
        site_alone, bearing, rest);
}

}  // namespace

TEST_CASE("the press's file reads as it was measured", "[read]") {
    const auto read = read_location(KEYHOUR_LOCATIONS "/tallow-lane.toml");
    REQUIRE(read.has_value());
    const site::Location& place = *read;
    CHECK(place.site.name == "Tallow Lane Press");
    CHECK(place.site.observer.latitude.in_degrees() == Approx(52.9536));
    CHECK(place.site.observer.longitude.in_degrees() == Approx(-1.1505));
    CHECK(place.site.observer.elevation_m == 61);
    CHECK(place.site.zone.name() == "Europe/London");
    CHECK(place.site.horizon.points().size() == 7);
    REQUIRE(place.room.has_value());
    const room::Room& room = *place.room;
    CHECK(room.floor.size() == 4);
    CHECK(room.walls[3] == "party");
    CHECK(room.bearing.faces_true().from_north.in_degrees() == Approx(196));
    CHECK(room.bearing.within.in_degrees() == Approx(3));
    REQUIRE(room.windows.size() == 3);
    CHECK(room.windows[0].bars.level == 2);
    CHECK(room.windows[0].reveal_m == 0.28);
    CHECK(room.windows[0].cover == room::Cover::open);
    CHECK(room.windows[2].wall == 1);
    CHECK(room.windows[2].width_m == Approx(1.016));
    CHECK(room.windows[2].cover == room::Cover::sheer);
    CHECK(room.cameras[0].aims_at == 0);
    CHECK(room.cameras[0].view_vertical.in_degrees() == Approx(38 * 9 / 16.0));
    CHECK(room.objects[0].height_m == 0.95);
    CHECK(room.buildings[0].footprint.size() == 4);
    CHECK(place.spots[0].on_plan);
    CHECK(place.spots[0].wants == site::Side::side);
    CHECK(place.questions.empty());
}

TEST_CASE("a site alone is a location", "[read]") {
    const site::Location place = read_or_fail(site_alone);
    CHECK_FALSE(place.room.has_value());
    CHECK(place.site.observer.elevation_m == 0);
    CHECK(place.site.horizon.is_level());
    CHECK(place.site.air == site::AirClass::normal);
}

TEST_CASE("what is not said has its default", "[read]") {
    const site::Location place = read_or_fail(
        room_with("{ wall = \"a\", faces = 180, north = \"true\" }",
                  "[[window]]\nname = \"w\"\nwall = \"a\"\nleft_m = 1\nwidth_m = 1\n"
                  "sill_m = 1\nheight_m = 1\nreveal_m = 0.2\n"
                  "[[mark]]\nname = \"m\"\nat = [2, 2]\nheight_m = 1\n"
                  "[[camera]]\nname = \"c\"\nat = [4, 3]\nheight_m = 1\naims_at = \"m\"\n"));
    const room::Room& room = *place.room;
    CHECK(room.bearing.within.in_degrees() == Approx(2));
    CHECK(room.floor_above_ground_m == 0);
    CHECK(room.windows[0].bars.upright == 0);
    CHECK(room.windows[0].glass == room::Glass::single_pane);
    CHECK(room.windows[0].cover == room::Cover::open);
    CHECK(room.marks[0].radius_m == 0.15);
    CHECK(room.cameras[0].view.in_degrees() == Approx(40));
}

TEST_CASE("a compass bearing is corrected and its missing date asked for", "[read]") {
    const site::Location place =
        read_or_fail(room_with("{ wall = \"a\", faces = 180, north = \"magnetic\" }"));
    CHECK(place.room->bearing.magnetic);
    CHECK(place.room->bearing.within.in_degrees() == Approx(5));
    CHECK(place.room->bearing.faces_true().from_north != Azimuth{Angle::degrees(180)}.from_north);
    REQUIRE(place.questions.size() == 1);
    CHECK_THAT(place.questions[0],
               Catch::StartsWith("bearing: on which day was the compass read?"));
    for (const char* day : {"\"2026-02-10\"", "2026-02-10"}) {
        const site::Location dated = read_or_fail(room_with(fmt::format(
            "{{ wall = \"a\", faces = 180, north = \"magnetic\", measured = {} }}", day)));
        CHECK(dated.questions.empty());
        // The needle moves east there, by a fifth of a degree a year.
        CHECK(dated.room->bearing.declination < place.room->bearing.declination);
    }
}

TEST_CASE("what looks odd and can be right becomes a question", "[read]") {
    const site::Location place = read_or_fail(
        room_with("{ wall = \"a\", faces = 180, north = \"true\", within_deg = 0 }",
                  "[[window]]\nname = \"w\"\nwall = \"a\"\nleft_m = 0\nwidth_m = \"5 m\"\n"
                  "sill_m = 1\nheight_m = 1\nreveal_m = 0\n"));
    REQUIRE(place.questions.size() == 3);
    CHECK_THAT(place.questions[0], Catch::StartsWith("window \"w\": reveal 0:"));
    CHECK_THAT(place.questions[1], Catch::StartsWith("window \"w\" fills its wall from corner"));
    CHECK_THAT(place.questions[2], Catch::StartsWith("bearing: within_deg = 0:"));
}

TEST_CASE("a byte order mark and CRLF line ends are no problem", "[read]") {
    std::string text = "\xef\xbb\xbf";
    for (const char c : std::string{site_alone})
        text += c == '\n' ? std::string{"\r\n"} : std::string{c};
    CHECK(read_or_fail(text).site.zone.name() == "Europe/London");
}

TEST_CASE("a spot has a lens and may name the wall in its shot", "[read]") {
    const std::string site =
        "format = 1\n[site]\nposition = \"50N 10E\"\ntime_zone = \"UTC\"\n"
        "[[spot]]\nname = \"gate\"\nposition = \"50N 10E\"\ncamera_bearing = 90\n";
    const auto plain = read::read_location_text(site, "plain.toml");
    REQUIRE(plain);
    CHECK(plain->spots[0].view.in_degrees() == Approx(40));
    CHECK(plain->spots[0].tilt.in_degrees() == 0);
    CHECK_FALSE(plain->spots[0].facade_faces);
    const auto full = read::read_location_text(
        site + "view_deg = 63\ntilt_deg = -4\nfacade_faces = 268\n", "full.toml");
    REQUIRE(full);
    CHECK(full->spots[0].view.in_degrees() == Approx(63));
    CHECK(full->spots[0].tilt.in_degrees() == Approx(-4));
    CHECK(full->spots[0].facade_faces->in_degrees() == Approx(268));
    for (const char* wrong :
         {"view_deg = 0\n", "tilt_deg = 90\n", "facade_faces = 361\n", "facade_face = 3\n"}) {
        INFO(wrong);
        CHECK_FALSE(read::read_location_text(site + wrong, "wrong.toml"));
    }
}

TEST_CASE("a building's side may be glass or white render", "[read]") {
    const std::string room =
        "format = 1\n[site]\nposition = \"50N 10E\"\ntime_zone = \"UTC\"\n"
        "[room]\nfloor = [[0, 0], [5, 0], [5, 4], [0, 4]]\nwalls = [\"a\", \"b\", \"c\", \"d\"]\n"
        "height_m = 3\nbearing = { wall = \"a\", faces = 180, north = \"true\" }\n"
        "[[building]]\nname = \"bank\"\nfootprint = [[0, -20], [9, -20], [9, -10], [0, -10]]\n"
        "height_m = 12\n";
    const auto read = read::read_location_text(
        room + "facade = { side = 3, kind = \"white\", bottom_m = 4 }\n", "bank.toml");
    REQUIRE(read);
    const auto& facade = read->room->buildings[0].facade;
    REQUIRE(facade);
    CHECK(facade->side == 2);
    CHECK(facade->kind == room::Facade::Kind::white);
    CHECK(facade->bottom_m == 4);
    CHECK(facade->top_m == 12);
    for (const char* wrong :
         {"facade = { side = 5, kind = \"glass\" }\n", "facade = { side = 1 }\n",
          "facade = { side = 1, kind = \"mirror\" }\n",
          "facade = { side = 1, kind = \"glass\", top_m = 13 }\n",
          "facade = { side = 1, kind = \"glass\", bottom_m = 6, top_m = 5 }\n",
          "facade = { side = 1, kind = \"glass\", edge = 2 }\n", "facade = 3\n"}) {
        INFO(wrong);
        CHECK_FALSE(read::read_location_text(room + wrong, "wrong.toml"));
    }
}
