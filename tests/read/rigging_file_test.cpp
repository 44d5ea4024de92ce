#include "read/rigging_file.hpp"

#include <catch2/catch.hpp>

using keyhour::read::read_location_text;
using keyhour::read::read_rigging_text;

namespace {

const std::string site =
    "format = 1\n[site]\nname = \"Yard\"\nposition = \"52N 0E\"\ntime_zone = \"Europe/London\"\n";

std::string problems_of(const std::string& text) {
    const auto read = read_rigging_text(site + text, "a.toml");
    REQUIRE_FALSE(read);
    // The same file is refused as a location: no question is asked of a faulty one.
    REQUIRE_FALSE(read_location_text(site + text, "a.toml"));
    return keyhour::read::text(read.error());
}

}  // namespace

TEST_CASE("rigging is read with its tasks in order, minutes ascending by crew", "[read]") {
    const auto read = read_rigging_text(
        site +
            "[rigging]\ncrew = 2\ncall = \"07:30\"\noverlap_m = \"10 cm\"\n"
            "[[task]]\nname = \"hang blackout\"\nminutes = { 3 = 20, 1 = 45, 2 = 25 }\n"
            "[[task]]\nname = \"stand outside\"\nminutes = { 2 = 15 }\n",
        "a.toml");
    REQUIRE(read);
    CHECK(read->crew == 2);
    CHECK(read->call == std::chrono::seconds{7 * 3600 + 30 * 60});
    CHECK(read->overlap_m == Approx(0.10));
    REQUIRE(read->tasks.size() == 2);
    CHECK(read->tasks[0].name == "hang blackout");
    REQUIRE(read->tasks[0].by_crew.size() == 3);
    CHECK(read->tasks[0].by_crew[0].crew == 1);
    CHECK(read->tasks[0].by_crew[0].minutes == 45);
    CHECK(read->tasks[0].by_crew[2].minutes == 20);
}

TEST_CASE("minutes of a task may be written with their units", "[read]") {
    const auto read = read_rigging_text(
        site + "[[task]]\nname = \"a\"\nminutes = { 1 = \"1 h 30 min\", 2 = \"45min\", 3 = 30 }\n",
        "a.toml");
    REQUIRE(read);
    const auto& by_crew = read->tasks[0].by_crew;
    REQUIRE(by_crew.size() == 3);
    CHECK(by_crew[0].minutes == 90);
    CHECK(by_crew[1].minutes == 45);
    CHECK(by_crew[2].minutes == 30);
    CHECK_THAT(problems_of("[[task]]\nname = \"a\"\nminutes = { 1 = \"30 h\" }\n"),
               Catch::Matchers::Contains("1 to 1440 minutes"));
}

TEST_CASE("a file without rigging has none, and the usual overlap", "[read]") {
    const auto read = read_rigging_text(site, "a.toml");
    REQUIRE(read);
    CHECK(read->tasks.empty());
    CHECK_FALSE(read->call);
    CHECK(read->overlap_m == keyhour::site::usual_overlap_m);
}

TEST_CASE("faults of rigging name their line and what is accepted", "[read]") {
    CHECK_THAT(problems_of("[rigging]\ncall = \"25:00\"\n"),
               Catch::Matchers::StartsWith("a.toml:7:8: "));
    CHECK_THAT(problems_of("[rigging]\ncrews = 2\n"),
               Catch::Matchers::Contains("did you mean \"crew\"?"));
    CHECK_THAT(problems_of("[rigging]\ncrew = 0\n"),
               Catch::Matchers::Contains("accepted: a whole number, 1 to 50"));
    const std::string task = "[[task]]\nname = \"a\"\n";
    CHECK_THAT(problems_of(task),
               Catch::Matchers::Contains("\"minutes\" is missing in [[task]] \"a\""));
    CHECK_THAT(problems_of(task + "minutes = {}\n"),
               Catch::Matchers::Contains("minutes by crew size, { 1 = 40, 2 = 25 }"));
    CHECK_THAT(problems_of(task + "minutes = { two = 4 }\n"),
               Catch::Matchers::Contains("\"two\" is no crew size"));
    CHECK_THAT(problems_of(task + "minutes = { 1 = -4 }\n"),
               Catch::Matchers::Contains("1 to 1440 minutes"));
    CHECK_THAT(problems_of(task + "minutes = { 1 = 20, 2 = 30 }\n"),
               Catch::Matchers::Contains("2 people take longer than 1"));
    CHECK_THAT(problems_of(task + "minutes = { 1 = 4 }\n" + task + "minutes = { 1 = 4 }\n"),
               Catch::Matchers::Contains("a second task is called \"a\""));
}
