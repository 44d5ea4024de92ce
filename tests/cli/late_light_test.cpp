// Late light where a ridge or a wall stands before it: in one wording in every output.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "page.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"
#include "scratch_file.hpp"

namespace {

using Words = std::vector<std::string>;

std::string out_of(const Words& words) {
    const Outcome o = run_program(words);
    CAPTURE(o.err);
    REQUIRE(o.code == 0);
    return o.out;
}

/// Folded lines of a calendar joined, its escapes undone.
std::string unfolded(std::string text) {
    for (std::size_t at; (at = text.find("\r\n ")) != std::string::npos;)
        text.erase(at, 3);
    for (std::size_t at; (at = text.find("\\,")) != std::string::npos;)
        text.erase(at, 1);
    for (std::size_t at; (at = text.find("\\;")) != std::string::npos;)
        text.erase(at, 1);
    return text;
}

}  // namespace

TEST_CASE("what takes the sun out of late light is worded alike everywhere", "[cli][late]") {
    const std::string press = example("tallow-lane"), date = "2026-02-14";
    const std::string words =
        "sun gone 16:17 (own walls outside), sky 4.5 klx, -0.3 to -2.0 stops in 10 min";
    CHECK(holds(flat(out_of({"exterior", press, "--date", date})),
                "evening 16:24 to 17:36, " + words));
    CHECK(holds(out_of({"sheet", press, "--date", date, "--only", "page", "-o", "-"}), words));
    CHECK(holds(unfolded(out_of({"sheet", press, "--date", date, "--only", "calendar", "-o", "-"})),
                words));
    CHECK(
        holds(out_of({"sheet", press, "--date", date, "--only", "spreadsheet", "-o", "-"}), words));
    CHECK(holds(flat(out_of({"exterior", press, "--from", date, "--to", date})),
                "late light 16:24 to 17:36, sky alone"));
}

TEST_CASE("no start is promised for sun that a wall has taken", "[cli][late]") {
    const std::string press = example("tallow-lane");
    const auto one = nlohmann::json::parse(
        out_of({"exterior", press, "--date", "2026-02-14", "--json"}))["spots"][0];
    CHECK(one["wants"] == "side");
    CHECK(one["for_late_light"].empty());
    const auto& evening = one["late_light"][1];
    CHECK(evening["sun_goes_utc"] == one["direct"].back()["end_utc"]);
    CHECK(evening["sun_goes_utc"] < evening["start_utc"]);
    CHECK(evening["sun_behind"] == "own walls outside");
    REQUIRE(evening["stretches"].size() == 1);
    CHECK(evening["stretches"][0]["in_sun"] == false);
    CHECK(evening["stretches"][0]["sky_lx"]["at_start"]["likely"] > 1000);
    CHECK(evening["stretches"][0]["sky_stops_lost_per_10_min"]["at_end"] > 1.5);
    // Any light will do: to the end of the band.
    const ScratchFile any{"late-any.toml", changed(example_text("tallow-lane"), "wants = \"side\"",
                                                   "wants = \"any\"")};
    const auto whole = nlohmann::json::parse(
        out_of({"exterior", any.path, "--date", "2026-02-14", "--json"}))["spots"][0];
    CHECK(whole["for_late_light"][0]["end_utc"] == whole["late_light"][1]["end_utc"]);
}

TEST_CASE("day tells what of late light has the sun over the site's horizon", "[cli][late]") {
    const Words ask{"day", example("tallow-lane"), "--date", "2026-02-14"};
    const std::string page = flat(out_of(ask));
    CHECK(holds(page,
                "evening 16:24 to 17:36 (1 h 12 min), sun to 16:40 (skyline), then sky "
                "alone 3.1 klx, -0.5 to -2.0 stops in 10 min"));
    CHECK(holds(page, "morning 07:02 to 08:14 (1 h 12 min), sun from 08:05 (skyline)"));
    Words json = ask;
    json.push_back("--json");
    const std::string text = out_of(json);
    CHECK(schema_faults("day", text) == "");
    const auto document = nlohmann::json::parse(text);
    const auto& lights = document["late_light"]["intervals"];
    for (const auto& event : document["events"]) {
        if (event["kind"] == "first_sun") CHECK(event["utc"] == lights[0]["sun_comes_utc"]);
        if (event["kind"] == "last_sun") CHECK(event["utc"] == lights[1]["sun_goes_utc"]);
    }
    CHECK(lights[1]["stretches"].size() == 2);
    json.push_back("--no-light");
    CHECK(
        nlohmann::json::parse(out_of(json))["late_light"]["intervals"][1]["stretches"][1]["sky_lx"]
            .is_null());
}
