#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "examples.hpp"
#include "page.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"
#include "scratch_file.hpp"

namespace {

using Arguments = std::vector<std::string>;

/// The press, its lock planned at the case window.
const std::string& planned() {
    static const ScratchFile file{"keyhour-lock-by-lamp.toml",
                                  example_text("tallow-lane") +
                                      "\n[lock]\nwindow = \"case window\"\nmark = \"type case\"\n"
                                      "minutes = 150\n"};
    return file.path;
}

nlohmann::json answer(const char* command, Arguments more = {}) {
    Arguments words{command, planned(), "--date", "2026-03-10"};
    words.insert(words.end(), more.begin(), more.end());
    words.emplace_back("--json");
    const Outcome o = run_program(words);
    INFO(o.err);
    REQUIRE(o.code == 0);
    REQUIRE(schema_faults(command, o.out) == "");
    return nlohmann::json::parse(o.out);
}

}  // namespace

TEST_CASE("a lock keyed by a lamp tells the lamp that lamp tells", "[cli][lock]") {
    const auto lock = answer("lock");
    const auto& by = lock["by_lamp"];
    const auto lamp = answer("lamp");
    for (const char* same : {"lamp", "window", "mark", "wanted", "nearest", "light"}) {
        CAPTURE(same);
        CHECK(by["lamp"][same] == lamp[same]);
    }
    CHECK(by["free_of_sun"] ==
          nlohmann::json{answer("key", {"--by", "lamp"})["intervals"][0]["start_utc"],
                         answer("key", {"--by", "lamp"})["intervals"][0]["end_utc"]});
    REQUIRE(by["hours"].size() >= 3);
    CHECK(by["hours"].front()["utc"] == lock["lock"]["start_utc"]);
    CHECK(by["hours"].back()["utc"] == lock["lock"]["end_utc"]);
    for (const auto& hour : by["hours"])
        CHECK(hour["key_lx"].get<double>() == Approx(hour["daylight_key_lx"].get<double>() +
                                                     lamp["light"]["level_lx"].get<double>())
                                                  .epsilon(1e-4));
    // Its light goes through the window beside the key's, which no sun asks to be covered.
    CHECK(lock["covers"].empty());
    REQUIRE(by["cloth_against_lamp"].size() == 1);
    CHECK(by["cloth_against_lamp"][0]["window"] == "press window");
    CHECK(by["cloth_against_lamp"][0]["needed_by_utc"] == lock["lock"]["start_utc"]);
    CHECK(by["cloth_against_lamp"][0]["cloth_width_m"] == Approx(1.4 + 2 * 0.15));
}

TEST_CASE("a lock without a key window, or in rows, has no lamp", "[cli][lock]") {
    const Outcome o = run_program({"lock", example("tallow-lane"), "--date", "2026-03-10",
                                   "--start", "17:20", "--minutes", "60", "--json"});
    CHECK(nlohmann::json::parse(o.out)["by_lamp"].is_null());
    const Outcome rows =
        run_program({"lock", planned(), "--from", "2026-03-10", "--to", "2026-03-12"});
    CHECK_FALSE(holds(rows.out, "key lamp"));
}

TEST_CASE("a lock's page names the lamp's place and light in one screen", "[cli][lock]") {
    const std::string page = run_program({"lock", planned(), "--date", "2026-03-10"}).out;
    CHECK(std::ranges::count(page, '\n') <= 24);
    CHECK(tells(page, "type case by key lamp through case window: key lamp 6.69 m off the wall"));
    CHECK(tells(page,
                "the lamp also enters press window, 270 lx there: cover it, cloth 1.70 x 1.90 m, "
                "or flag the lamp"));
    CHECK(tells(page,
                "key:fill about 4:1 at 17:20, about 4:1 at 19:50; daylight moves the key by "
                "0.2 stops over the lock, its ratio by 0.0"));
    CHECK_FALSE(tells(page, "18:00 key"));
    CHECK(tells(run_program({"lock", planned(), "--date", "2026-03-10", "--show", "hours"}).out,
                "18:00 key 3.4 klx, fill about 800 lx, key:fill about 4:1"));
    // With cloth in the window that the lamp enters there is nothing more to hang.
    const std::string covered = run_program({"lock", planned(), "--date", "2026-03-10", "--start",
                                             "11:00", "--end", "13:00"})
                                    .out;
    CHECK(
        tells(covered, "the lamp also enters press window, 270 lx there: its cloth keeps it out"));
}
