#include "keyhour/site/read_back.hpp"

#include <catch2/catch.hpp>

#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"

using namespace keyhour::site;
using keyhour::Angle;
using keyhour::Azimuth;
using Lines = std::vector<std::string>;

namespace {

Location press() {
    Location location;
    location.site.name = "Tallow Lane Press";
    location.site.observer = {Angle::degrees(52.9536), Angle::degrees(-1.1505), 61};
    location.site.zone = *Zone::named("Europe/London");
    location.site.horizon =
        Horizon{{{Angle::degrees(0), Angle::degrees(3)}, {Angle::degrees(270), Angle::degrees(9)}}};
    return location;
}

keyhour::room::Room street_room() {
    keyhour::room::Room room;
    room.floor = {{0, 0}, {7.2, 0}, {7.2, 4.6}, {0, 4.6}};
    room.walls = {"street", "yard", "back", "party"};
    room.height_m = 3.1;
    room.bearing = {0, Angle::degrees(196), false, {}, Angle::degrees(3)};
    return room;
}

}  // namespace

TEST_CASE("a site is read back in words", "[site]") {
    CHECK(read_back(press(), *read_date("2026-02-10"), *read_date("2026-02-10")) ==
          Lines{"Tallow Lane Press", "position: 52.9536 degrees NORTH, 1.1505 degrees WEST",
                "in minutes: 52 deg 57.22 min N, 1 deg 9.03 min W; 61 m above the sea",
                "date: Tuesday 10 February 2026", "clocks: Europe/London, UTC+00:00 on this date",
                "horizon: 2 points, highest 9 degrees towards west (270 true)"});
}

TEST_CASE("a change of the clocks near the date is told", "[site]") {
    const auto line = [](const char* date) {
        const auto lines = read_back(press(), *read_date(date), *read_date(date));
        return lines.at(5);
    };
    CHECK(line("2026-03-10") ==
          "clocks go forward 1 hour on Sunday 29 March 2026 (UTC+00:00 to "
          "UTC+01:00): 19 days after this date");
    CHECK(line("2026-03-29") ==
          "clocks go forward 1 hour on Sunday 29 March 2026 (UTC+00:00 to "
          "UTC+01:00): ON THIS DATE");
    CHECK(line("2026-10-26") ==
          "clocks go back 1 hour on Sunday 25 October 2026 (UTC+01:00 to "
          "UTC+00:00): 1 day before this date");
}

TEST_CASE("a range is read back with the changes inside it", "[site]") {
    const auto lines = read_back(press(), *read_date("2026-03-10"), *read_date("2026-04-10"));
    CHECK(lines.at(3) == "dates: Tuesday 10 March 2026 to Friday 10 April 2026");
    CHECK(lines.at(4) ==
          "clocks: Europe/London, UTC+00:00 on the first date, UTC+01:00 on the last");
    CHECK(lines.at(5) ==
          "clocks go forward 1 hour on Sunday 29 March 2026 (UTC+00:00 to "
          "UTC+01:00), between the two dates");
}

TEST_CASE("walls are read back in words", "[site]") {
    Location location = press();
    location.room = street_room();
    location.questions = {"sill 3.0 m: is this feet?"};
    const auto lines = read_back(location, *read_date("2026-02-10"), *read_date("2026-02-10"));
    REQUIRE(lines.size() == 11);
    CHECK(lines[6] == "please check: sill 3.0 m: is this feet?");
    CHECK(lines[7] ==
          "street wall faces south-south-west (196 true, give or take 3): looking out "
          "you look SSW");
    CHECK(lines[8] == "yard wall faces east-south-east (106 true): looking out you look ESE");
    CHECK(lines[9] == "back wall faces north-north-east (16 true): looking out you look NNE");
    CHECK(lines[10] == "party wall faces west-north-west (286 true): looking out you look WNW");
}

TEST_CASE("a magnetic bearing is read back with the true one", "[site]") {
    auto room = street_room();
    room.bearing.magnetic = true;
    room.bearing.declination = Angle::degrees(1.3);
    CHECK(wall_in_words(room, 0) ==
          "street wall faces south-south-west (196 magnetic, 197.3 true, give or take 3): looking "
          "out you look SSW");
}

TEST_CASE("compass points are the nearest of sixteen", "[site]") {
    const auto letters = [](double b) {
        return std::string{compass_letters(Azimuth{Angle::degrees(b)})};
    };
    CHECK(letters(0) == "N");
    CHECK(letters(11.2) == "N");
    CHECK(letters(11.3) == "NNE");
    CHECK(letters(225) == "SW");
    CHECK(letters(348.7) == "NNW");
    CHECK(letters(348.8) == "N");
}
