// A page's bad request: each fault is told beside the field that is wrong, and nothing throws.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "cli/scratch_file.hpp"
#include "pocket/answer.hpp"
#include "pocket/location_problems.hpp"

namespace {

using Json = nlohmann::ordered_json;

Json reply_to(const Json& request) {
    return Json::parse(keyhour::pocket::answer(request.dump()));
}

Json key_at(const std::string& location) {
    return {{"ask", "key"}, {"location", location}, {"date", "2026-02-17"}};
}

/// The only problem of a reply.
Json problem_of(const Json& request) {
    const Json reply = reply_to(request);
    INFO(reply.dump());
    CHECK(reply["ok"] == false);
    REQUIRE(reply["problems"].size() == 1);
    return reply["problems"][0];
}

}  // namespace

TEST_CASE("a fault in a location names line, column and field", "[pocket]") {
    const Json problem = problem_of(
        key_at(changed(example_text("tallow-lane"), "sill_m = 0.85", "sill_m = \"low\"")));
    CHECK(problem["field"] == "window.press window.sill_m");
    CHECK(problem["line"].get<int>() > 1);
    CHECK(problem["column"] == 10);
    CHECK(problem["text"].get<std::string>().find("\"low\"") != std::string::npos);
    const Json two = reply_to(
        key_at(changed(changed(example_text("tallow-lane"), "sill_m = 0.85", "sil_m = 0.85"),
                       "elevation_m = 61", "elevation_m = \"x\"")));
    CHECK(two["problems"].size() >= 2);
}

TEST_CASE("the field of a line is its table, the name of one of a list, and the key", "[pocket]") {
    using keyhour::pocket::field_at;
    const std::string text =
        "format = 1\n\n[site]\nposition = \"x\"\n[[mark]]\nat = [1, 2]\nname = \"case\" # of type\n"
        "[[mark]]\n\"height_m\" = 1\n";
    CHECK(field_at(text, 1) == "format");
    CHECK(field_at(text, 4) == "site.position");
    CHECK(field_at(text, 6) == "mark.case.at");
    CHECK(field_at(text, 8) == "mark");
    CHECK(field_at(text, 9) == "mark.height_m");
    CHECK(field_at(text, 0).empty());
    CHECK(field_at(text, 99).empty());
}

TEST_CASE("a wrong option is told by its name, with the nearest one known", "[pocket]") {
    Json request = key_at(example_text("tallow-lane"));
    request["covrage"] = 90;
    Json problem = problem_of(request);
    CHECK(problem["field"] == "covrage");
    CHECK(problem["text"].get<std::string>().find("did you mean \"coverage\"?") !=
          std::string::npos);
    request = key_at(example_text("tallow-lane"));
    request["coverage"] = 0;
    problem = problem_of(request);
    CHECK(problem["field"] == "coverage");
    CHECK(problem["text"] == "--coverage 0: accepted: 1 to 100 percent of the mark");
    request["coverage"] = "ninety";
    CHECK(problem_of(request)["text"] ==
          "coverage: \"ninety\" is not a number; accepted: a number, in percent");
    request = key_at(example_text("tallow-lane"));
    request["ask"] = "kay";
    CHECK(problem_of(request)["text"] == "there is no question \"kay\"; did you mean \"key\"?");
}

TEST_CASE("whatever comes in, a reply goes out", "[pocket]") {
    for (const char* text : {"", "{", "[]", "3", "\"key\"", "{\"ask\":3}", "\xff\xfe",
                             "{\"ask\":\"key\"}", "{\"ask\":\"draw\",\"only\":\"moon\"}",
                             "{\"ask\":\"key\",\"location\":\"[{\",\"columns\":-4}"}) {
        INFO(text);
        const Json reply = Json::parse(keyhour::pocket::answer(text));
        CHECK(reply["ok"] == false);
        CHECK(reply["problems"].size() >= 1);
    }
}

TEST_CASE("no question of a page reads the disk or writes to it", "[pocket]") {
    // A file beside the tests' folder is there, and is not read.
    Json request = key_at(changed(example_text("tallow-lane"), "elevation_m = 61",
                                  "elevation_m = 61\nbuildings = \"/etc/hostname\""));
    CHECK(problem_of(request)["field"] == "site.buildings");
    CHECK(problem_of(request)["text"].get<std::string>().find(
              "/etc/hostname: the file was not handed over") != std::string::npos);
    request = key_at(example_text("tallow-lane"));
    request["ask"] = "bearing";
    request["write"] = true;
    CHECK(problem_of(request)["text"].get<std::string>().find("writes no file") !=
          std::string::npos);
}
