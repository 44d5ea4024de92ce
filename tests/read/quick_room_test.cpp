#include "read/quick_room.hpp"

#include <catch2/catch.hpp>

using namespace keyhour;
using read::location_of;
using read::QuickRoom;

namespace {

QuickRoom sound() {
    QuickRoom quick;
    quick.position = "52N 0E";
    quick.zone = "Europe/London";
    quick.faces_deg = 225;
    quick.window = "1.2 x 1.5 m";
    quick.sill = "0.9 m";
    quick.reveal = "0.3 m";
    quick.room = "5 x 4 m";
    quick.mark = "2.5 m";
    return quick;
}

std::vector<std::string> complaints(void (*change)(QuickRoom&)) {
    QuickRoom quick = sound();
    change(quick);
    const auto read = location_of(quick);
    return read ? std::vector<std::string>{} : read.error();
}
using Lines = std::vector<std::string>;

}  // namespace

TEST_CASE("a few flags make a room with its window centred and the mark before it", "[read]") {
    const auto read = location_of(sound());
    REQUIRE(read.has_value());
    CHECK(read->questions.empty());
    const room::Room& room = *read->room;
    CHECK(room.windows[0].left_m == Approx(1.9));
    CHECK(room.windows[0].sill_m == 0.9);
    CHECK(room.marks[0].at == room::Point2{2.5, 2.5});
    CHECK(room.marks[0].height_m == 1.2);
    CHECK(room.height_m == 3);
    CHECK(room.cameras.empty());
    CHECK(room::wall_faces(room, 0).from_north.in_degrees() == Approx(225));
    // Facing south-west the wall at the left hand faces south-east.
    CHECK(room::wall_faces(room, 1).from_north.in_degrees() == Approx(135));
    CHECK(room.bearing.within.in_degrees() == Approx(2));
}

TEST_CASE("one unit at the end serves both lengths, and each may have its own", "[read]") {
    QuickRoom quick = sound();
    for (const char* window :
         {"120 x 150 cm", "1.2x1.5m", "1.2 m x 150 cm", "1.2 x 1.5", "1.2 \u00d7 1.5 m"}) {
        quick.window = window;
        const auto read = location_of(quick);
        REQUIRE(read.has_value());
        CHECK(read->room->windows[0].width_m == Approx(1.2));
        CHECK(read->room->windows[0].height_m == Approx(1.5));
    }
    quick.window = "4 ft x 5 ft 2 in";
    CHECK(location_of(quick)->room->windows[0].height_m == Approx(1.5748));
}

TEST_CASE("the camera stands to the right of the window's centre line, facing the window",
          "[read]") {
    QuickRoom quick = sound();
    quick.camera = "1.5 x 3 m";
    quick.view_deg = 32;
    const auto read = location_of(quick);
    REQUIRE(read.has_value());
    const room::Camera& camera = read->room->cameras.at(0);
    const room::WallFrame wall = room::wall_frame(read->room->floor, 0);
    CHECK(room::dot(camera.at - wall.left_corner, wall.u) == Approx(2.5 + 1.5));
    CHECK(camera.at.y == 3);
    CHECK(camera.view_vertical.in_degrees() == Approx(18));
    quick.camera = "-1.5 x 3 m";
    CHECK(location_of(quick)->room->cameras.at(0).at.x == Approx(4));
}

TEST_CASE("a compass bearing on the command line is corrected too", "[read]") {
    QuickRoom quick = sound();
    quick.magnetic = true;
    const auto read = location_of(quick);
    REQUIRE(read.has_value());
    CHECK(read->room->bearing.within.in_degrees() == Approx(5));
    CHECK(read->room->bearing.declination != Angle{});
    CHECK(read->questions.size() == 1);
}

TEST_CASE("lengths by flag are judged like a file", "[read]") {
    const std::string forms =
        "; accepted: metres, or a unit with the number, as in \"127 cm\" or \"4 ft 2 in\"";
    CHECK(complaints([](QuickRoom& q) { q.sill = "3.0"; }) ==
          Lines{"sill 3.0: is this feet? write \"3.0 ft\", or \"3.0 m\" if metres are meant"});
    CHECK(complaints([](QuickRoom& q) { q.reveal = "30"; }) ==
          Lines{"reveal 30: is this inches or centimetres? write \"30 in\" or \"30 cm\", or \"30 "
                "m\" if "
                "metres are meant"});
    CHECK(complaints([](QuickRoom& q) { q.reveal = ""; }) ==
          Lines{"reveal \"\" is not a length: it is empty" + forms});
    CHECK(complaints([](QuickRoom& q) { q.reveal = "nan"; }) ==
          Lines{"reveal \"nan\" is out of range; accepted: 0 m to 10 m"});
    CHECK(complaints([](QuickRoom& q) { q.window = "0 x 1.5 m"; }) ==
          Lines{"window \"0 m\" is out of range; accepted: more than 0 m, up to 100 m"});
    CHECK(
        complaints([](QuickRoom& q) { q.window = "1.2 m"; }) ==
        Lines{
            "window \"1.2 m\" is not two lengths; accepted: as in \"1.2 x 1.5 m\" or \"4 ft x 5 ft "
            "2 in\""});
    CHECK(complaints([](QuickRoom& q) { q.window = "4 x 5 ft 2 in"; }) ==
          Lines{"window \"4 x 5 ft 2 in\" has a unit on one length only; accepted: a unit for "
                "each, as in \"4 ft x 5 ft 2 in\""});
    CHECK(complaints([](QuickRoom& q) { q.window = "5.5 m x 1.5 m"; }) ==
          Lines{"the window is 5.5 m wide, its wall 5 m; accepted: a window up to 5 m wide"});
    CHECK(
        complaints([](QuickRoom& q) { q.window = "1.2 x 2.5 m"; }) ==
        Lines{
            "the head of window \"window\" is 3.4 m above the floor, in a room 3 m high; accepted: "
            "sill_m + height_m up to 3 m"});
    CHECK(
        complaints([](QuickRoom& q) { q.mark = "4.5 m"; }) ==
        Lines{
            "mark \"mark\" at [2.5, 4.5] is outside the floor; the floor spans x 0 to 5 and y 0 to "
            "4"});
    CHECK(complaints([](QuickRoom& q) { q.mark_height = "3.5 m"; }) ==
          Lines{"mark \"mark\" is 3.5 m above the floor, the ceiling 3 m; accepted: below 3 m"});
    CHECK(complaints([](QuickRoom& q) { q.camera = "4 x 3 m"; }) ==
          Lines{"camera \"A\" at [-1.5, 3] is outside the floor; the floor spans x 0 to 5 and y 0 "
                "to 4"});
}

TEST_CASE("bearing, zone and place by flag are judged like a file", "[read]") {
    CHECK(complaints([](QuickRoom& q) { q.faces_deg = 361; }) ==
          Lines{"bearing 361 is out of range; accepted: 0 to 360 degrees"});
    CHECK(complaints([](QuickRoom& q) { q.within_deg = -1; }) ==
          Lines{"within -1 is out of range; accepted: 0 to 45 degrees"});
    CHECK(complaints([](QuickRoom& q) { q.zone = "Europe/Lundon"; })
              .at(0)
              .starts_with("time zone \"Europe/Lundon\" is not known; did you mean"));
    CHECK(complaints([](QuickRoom& q) { q.position = "0E 52E"; }).size() == 1);
    CHECK(complaints([](QuickRoom& q) {
              q.position = "91N 0E";
              q.sill = "90";
              q.room = "big";
          }).size() == 3);
}
