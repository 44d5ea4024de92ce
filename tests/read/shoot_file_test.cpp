#include "read/shoot_file.hpp"

#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>

namespace {

using namespace keyhour;

const std::string example_path = KEYHOUR_LOCATIONS "/bindery-and-wharf/shoot.toml";

std::string example_text() {
    std::ostringstream text;
    text << std::ifstream{example_path}.rdbuf();
    return text.str();
}

/// The example with one change; the text must hold what is changed.
std::string with(const std::string& from, const std::string& to) {
    std::string text = example_text();
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

/// All that is wrong with a text beside the example.
std::string faults(const std::string& text) {
    const auto shoot = read::read_shoot_text(text, example_path);
    return shoot ? "" : read::text(shoot.error());
}

using Catch::Contains;

}  // namespace

TEST_CASE("the example shoot is read whole", "[shoot]") {
    const auto shoot = read::read_shoot(example_path);
    if (!shoot) FAIL(read::text(shoot.error()));
    CHECK(shoot->name == "Taken apart");
    CHECK(shoot->crew == 2);
    CHECK(shoot->days.size() == 2);
    REQUIRE(shoot->places.size() == 2);
    CHECK(shoot->places[1].location.spots.size() == 2);
    REQUIRE(shoot->scenes.size() == 10);
    const study::ShootScene& lock = shoot->scenes[3];
    CHECK(lock.name == "taking apart");
    CHECK_FALSE(lock.repeatable);
    CHECK(lock.light == study::LightWanted::lamp_key);
    CHECK(lock.over_run == std::chrono::minutes{20});
    CHECK(lock.after == std::vector<std::size_t>{0});
    CHECK(study::set_up_minutes(lock, 1) == 60);
    CHECK(study::set_up_minutes(lock, 3) == 40);
    CHECK(shoot->scenes[1].same_set_up == 0U);
    CHECK(shoot->scenes[9].is_cover);
    CHECK(study::move_minutes(*shoot, 1, 0) == 25);
    CHECK(shoot->rules.rest == std::chrono::hours{11});
}

TEST_CASE("a move without minutes is reckoned from the way", "[shoot]") {
    // 2.43 km as the crow flies (haversine on a sphere of 6371 km), 1.3 of it by road at 30
    // km/h: 6.3 min, and 15 min of loading.
    const auto shoot = read::read_shoot_text(
        with("[[move]]\nfrom = \"bindery\"\nto = \"wharf\"\nminutes = 25\n", ""), example_path);
    REQUIRE(shoot);
    CHECK(study::move_minutes(*shoot, 0, 1) == 22);
}

TEST_CASE("before is after, said from the other end", "[shoot]") {
    const auto shoot = read::read_shoot_text(
        with("name = \"interview\"",
             "name = \"interview\"\nbefore = [\"lane corner\", \"taking apart\"]"),
        example_path);
    REQUIRE(shoot);
    CHECK(shoot->scenes[5].after == std::vector<std::size_t>{0});
    CHECK(shoot->scenes[3].after == std::vector<std::size_t>{0});  // once, though said twice
}

TEST_CASE("an order in a circle is told whole, with its place", "[shoot]") {
    const std::string text =
        with("name = \"interview\"", "name = \"interview\"\nafter = [\"taking apart\"]");
    CHECK_THAT(
        faults(text),
        Contains("shoot.toml:29:9: the order runs in a circle: "
                 "\"interview\" after \"taking apart\" after \"interview\"; accepted: an order "
                 "with a beginning; take one of these out"));
}

TEST_CASE("a lock longer than the day's hours is refused, with both", "[shoot]") {
    CHECK_THAT(faults(with("minutes = 100", "minutes = \"12 h\"")),
               Contains("a lock of 740 minutes with its over-run is longer than the day's hours, "
                        "720 minutes"));
    CHECK(faults(with("minutes = 100", "minutes = 700")).empty());
}

TEST_CASE("hours that a change of clocks takes away are refused, and a short day is short",
          "[shoot]") {
    // Europe/London: clocks go forward on 2026-03-29 from 01:00 to 02:00 (Summer Time Order 2002).
    std::string text = with("\"2026-03-10\", \"2026-03-11\"", "\"2026-03-29\"");
    const std::string hours = "\"08:00\", \"20:00\"";
    const std::size_t at = text.find(hours);
    CHECK_THAT(faults(std::string{text}.replace(at, hours.size(), "\"01:30\", \"20:00\"")),
               Contains("hours = [\"01:30\", \"20:00\"] in [shoot]: ") && Contains("01:30"));
    text.replace(at, hours.size(), "\"00:00\", \"24:00\"");
    CHECK(faults(text).empty());
    const std::string minutes = "minutes = 100\nover_run = 20";
    text.replace(text.find(minutes), minutes.size(), "minutes = \"23 h 30 min\"");
    CHECK_THAT(faults(text),
               Contains("1410 minutes is longer than the day's hours, 1380 minutes on "
                        "2026-03-29"));
}

TEST_CASE("what the place lacks is named with the nearest that it has", "[shoot]") {
    CHECK_THAT(faults(with("mark = \"sewing frame\"", "mark = \"sewing fram\"")),
               Contains("there is no such mark; did you mean \"sewing frame\"?"));
    CHECK_THAT(faults(with("spot = \"steps\"", "mark = \"steps\"")),
               Contains("\"wharf\" has no mark"));
    CHECK_THAT(faults(with("spot = \"steps\"\n", "")),
               Contains("light = \"side\" without a spot; accepted: spot = \"steps\""));
    CHECK_THAT(faults(with("light = \"sun key\"", "light = \"back\"")),
               Contains("light = \"back\" without a spot"));
    CHECK_THAT(faults(with("place = \"wharf\"", "place = \"warf\"")),
               Contains("did you mean \"wharf\"?"));
}

TEST_CASE("every fault of a shoot file is told at once, by line and column", "[shoot]") {
    std::string text = with("crew = 2", "crew = 0");
    const auto change = [&](const std::string& from, const std::string& to) {
        text.replace(text.find(from), from.size(), to);
    };
    change("days = [\"2026-03-10\"", "days = [\"10/03/2026\"");
    change("set_up = { 1 = 75, 2 = 45 }", "set_up = { 1 = 45, 2 = 75 }");
    change("minutes = 60", "minutes = 0");
    change("may_be_dropped = true", "may_be_dropt = true");
    change("after = [\"interview\"]", "after = [\"intervew\"]");
    change("light = \"direct\"", "light = \"sunny\"");
    change("repeatable = false", "repeatable = \"no\"");
    const std::string told = faults(text);
    CHECK_THAT(told, Contains("shoot.toml:7:8: crew = 0 in [shoot] is out of range; accepted: a "
                              "whole number, 1 to 50"));
    CHECK_THAT(told, Contains(":6:8: ") && Contains("10/03/2026"));
    CHECK_THAT(told, Contains("2 people take longer than 1; more people take as long or less"));
    CHECK_THAT(told, Contains("minutes = 0 in [[scene]] \"interview\" is out of range"));
    CHECK_THAT(told, Contains("unknown key \"may_be_dropt\" in [[scene]] \"hands in the sun\"; did "
                              "you mean \"may_be_dropped\"?"));
    CHECK_THAT(told, Contains("there is no scene \"intervew\"; did you mean \"interview\"?"));
    CHECK_THAT(told, Contains("accepted: \"sun key\", \"lamp key\", \"late light\""));
    CHECK_THAT(told, Contains("is neither true nor false"));
    CHECK(std::count(told.begin(), told.end(), '^') == 8);
}

TEST_CASE("the faults of a place's own file are told under its name", "[shoot]") {
    CHECK_THAT(faults(with("bindery.toml", "bindary.toml")),
               Contains("there is no such file; accepted: a location file"));
    CHECK_THAT(faults(with("bindery.toml", "shoot.toml")),
               Contains("bindery-and-wharf/shoot.toml:") && Contains("unknown table"));
}

TEST_CASE("a set-up that needs more hands than the crew has is refused", "[shoot]") {
    CHECK_THAT(faults(with("set_up = { 1 = 75, 2 = 45 }", "set_up = { 3 = 45 }")),
               Contains("its set-up needs 3 people, the crew is 2"));
}
