// A location as a line of JSON: the same data model, the same checks, its own places.

#include <catch2/catch.hpp>
#include <string>

#include "read/location_file.hpp"

using namespace keyhour;

namespace {

const std::string line =
    R"({"format": 1, "site": {"name": "Hook Lane", "position": "52.9536N 1.1505W", )"
    R"("time_zone": "Europe/London", "horizon": [[0, 3], [180, 2.5]]}, )"
    R"("room": {"floor": [[0, 0], ["7.2 m", 0], [7.2, 4.6], [0, 4.6]], )"
    R"("walls": ["street", "yard", "back", "party"], "height_m": 3.1, )"
    R"("bearing": {"wall": "street", "faces": 196, "north": "true", "within_deg": 3}}, )"
    R"("window": [{"name": "left", "wall": "street", "left_m": 1.1, "width_m": 1.4, )"
    R"("sill_m": 0.85, "height_m": 1.6, "reveal_m": 0.28}, )"
    R"({"name": "right", "wall": "street", "left_m": 3.1, "width_m": 1.4, )"
    R"("sill_m": 0.85, "height_m": 1.6, "reveal_m": 0.28}], )"
    R"("mark": [{"name": "bench", "at": [3.2, 1.8], "height_m": 1.25}]})";

std::string changed(const std::string& from, const std::string& to) {
    std::string text = line;
    const std::size_t at = text.rfind(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

std::vector<std::string> problems_of(const std::string& text) {
    const auto read = read::read_location_json(text, "line 7 of standard input");
    REQUIRE_FALSE(read);
    std::vector<std::string> out;
    for (const read::Problem& problem : read.error())
        out.push_back(problem.text());
    return out;
}

}  // namespace

TEST_CASE("a line of JSON holds what a location file holds", "[read]") {
    const auto read = read::read_location_json(line, "line 1 of standard input");
    REQUIRE(read);
    CHECK(read->site.name == "Hook Lane");
    CHECK(read->site.observer.latitude.in_degrees() == Approx(52.9536));
    REQUIRE(read->room);
    CHECK(read->room->windows.size() == 2);
    CHECK(read->room->floor[1].x == 7.2);
    CHECK(read->room->marks.front().at.y == 1.8);
}

TEST_CASE("a problem in a line of JSON names line and path", "[read]") {
    CHECK(problems_of(changed("\"sill_m\": 0.85", "\"sill_m\": 3.0")) ==
          std::vector<std::string>{"line 7 of standard input, window[1].sill_m: sill_m = 3.0 in "
                                   "[[window]] \"right\": is this feet? write \"3.0 ft\", or \"3.0 "
                                   "m\" if metres are meant"});
    CHECK(problems_of(changed("\"sill_m\"", "\"sil_m\"")) ==
          std::vector<std::string>{
              "line 7 of standard input, window[1]: \"sill_m\" is missing in [[window]] \"right\"; "
              "accepted: metres as a number, or text with a unit such as \"127 cm\" or \"4 ft 2 "
              "in\"",
              "line 7 of standard input, window[1].sil_m: unknown key \"sil_m\" in [[window]] "
              "\"right\"; did you mean \"sill_m\"?"});
    CHECK(problems_of(changed("\"format\": 1, ", "")) ==
          std::vector<std::string>{
              "line 7 of standard input: \"format\" is missing in the line; accepted: 1"});
}

TEST_CASE("what is no JSON object is refused in one sentence", "[read]") {
    const auto first = [](const std::string& text) { return problems_of(text).front(); };
    CHECK(first("{\"format\": 1,}").starts_with("line 7 of standard input, column 14: not JSON: "));
    CHECK(first("").starts_with("line 7 of standard input, column 1: not JSON: "));
    CHECK(first("{} {}").starts_with("line 7 of standard input, column 4: not JSON: "));
    CHECK(first("{\"a\xff\": 1}").find("not JSON") != std::string::npos);
    CHECK(first("[1]") ==
          "line 7 of standard input: the line is no JSON object; accepted: one location a line, "
          "{\"format\": 1, \"site\": {...}, ...}");
    CHECK(first("3").find("no JSON object") != std::string::npos);
    CHECK(first("{\"site\": null}") ==
          "line 7 of standard input: \"site\" is null; leave out what is not known");
    CHECK(first("{\"format\": 1, \"format\": 1}") ==
          "line 7 of standard input: \"format\" stands a second time; accepted: each key once in "
          "its object");
    CHECK(first("{\"a\": " + std::string(1000, '[')).find("nested too deeply") !=
          std::string::npos);
    CHECK(first(changed("0.28}], ", "1e999}], ")).find("not JSON") != std::string::npos);
    CHECK(first(changed("\"height_m\": 1.25", "\"height_m\": 18446744073709551615"))
              .find("mark[0].height_m") != std::string::npos);
}
