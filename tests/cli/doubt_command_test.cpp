// What the commands tell of doubt: key's ensemble and ranking, patch's band, exterior's ends,
// check's list and the recce.

#include <unistd.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "page.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"
#include "scratch_file.hpp"

namespace {

using Arguments = std::vector<std::string>;

const std::string press = example("tallow-lane");

std::string scratch_name(const char* what) {
    return "keyhour-doubt-" + std::to_string(getpid()) + "-" + what + ".toml";
}

nlohmann::json answer(const char* schema, const Arguments& arguments) {
    const Outcome o = run_program(arguments);
    INFO(o.err);
    REQUIRE(o.code == 0);
    REQUIRE(schema_faults(schema, o.out) == "");
    return nlohmann::json::parse(o.out);
}

/// The press, its case window's reveal not taped yet.
std::string half_measured() {
    std::string text = example_text("tallow-lane");
    const std::size_t window = text.find("name = \"case window\"");
    const std::size_t reveal = text.find("reveal_m = 0.28", window);
    REQUIRE(reveal != std::string::npos);
    return text.replace(reveal, 15, "reveal_m = [0.1, 0.5]");
}

Arguments key_of_press(const Arguments& more = {}) {
    Arguments all{"key", press, "--date", "2026-02-17"};
    all.insert(all.end(), more.begin(), more.end());
    return all;
}

}  // namespace

TEST_CASE("key tells the hold at 90 and 50 per cent, the same for the same seed", "[cli][doubt]") {
    const auto one = answer("key", key_of_press({"--json"}));
    CHECK(one["ensemble"]["members"] == 64);
    CHECK(one["ensemble"]["seed"] == 1);
    const auto& k = one["intervals"][0];
    CHECK(k["hold_90_min"] <= k["hold_50_min"]);
    CHECK(k["hold_90_min"] < k["hold_min"]);
    CHECK(k["hold_50_min"].get<double>() == Approx(k["hold_min"].get<double>()).epsilon(0.15));
    CHECK(k["share_of_members"] == 1);
    CHECK(k["starts_between_utc"][0] < k["start_utc"]);
    CHECK(k["starts_between_utc"][1] > k["start_utc"]);
    CHECK(k["ends_between_utc"][1] > k["end_utc"]);

    CHECK(answer("key", key_of_press({"--json"})) == one);
    const auto other = answer("key", key_of_press({"--json", "--seed", "7", "--members", "128"}));
    CHECK(other["ensemble"]["members"] == 128);
    CHECK(other["intervals"][0]["hold_spread_min"] != k["hold_spread_min"]);
    CHECK(other["intervals"][0]["hold_min"] == k["hold_min"]);

    const auto none = answer("key", key_of_press({"--json", "--no-doubt"}));
    CHECK_FALSE(none.contains("ensemble"));
    CHECK_FALSE(none["intervals"][0].contains("hold_90_min"));
}

TEST_CASE("key's page says what holds in 9 of 10 cases", "[cli][doubt]") {
    const Outcome o = run_program(key_of_press());
    CHECK(o.code == 0);
    CHECK(tells(o.out, "every doubt: lit 13:09 to 14:05 in 9 of 10 cases"));
    CHECK(too_long(o.out).empty());
    const Outcome without = run_program(key_of_press({"--no-doubt"}));
    CHECK_FALSE(holds(without.out, "cases"));
    const Outcome range = run_program({"key", press, "--from", "2026-02-10", "--to", "2026-02-25"});
    CHECK(holds(range.out, "hold  any 9/10\n"));
    CHECK(too_long(range.out).empty());
}

TEST_CASE("a bearing that only moves a hold to another hour is still told first", "[cli][doubt]") {
    const auto effects = answer("key", {"key", example("tallow-lane"), "--date", "2026-02-17",
                                        "--why-unsure", "--json"})["why_unsure"];
    REQUIRE(!effects.empty());
    CHECK(effects[0]["input"] == "bearing");
    CHECK(effects[0]["kept_90_if_known_min"] > effects[0]["kept_90_min"]);
}

TEST_CASE("key ranks what to measure better", "[cli][doubt]") {
    const ScratchFile file{scratch_name("why").c_str(), half_measured()};
    const Arguments asked{"key", file.path, "--date", "2026-02-17", "--why-unsure"};
    Arguments json = asked;
    json.emplace_back("--json");
    const auto effects = answer("key", json)["why_unsure"];
    REQUIRE(effects.size() > 3);
    for (std::size_t i = 1; i < effects.size(); ++i)
        CHECK(effects[i - 1]["share_of_doubt"] >= effects[i]["share_of_doubt"]);
    const auto reveal = std::find_if(effects.begin(), effects.end(),
                                     [](const auto& e) { return e["input"] == "reveal"; });
    REQUIRE(reveal != effects.end());
    CHECK((*reveal)["name"] == "case window");
    CHECK((*reveal)["within_m"] == Approx(0.2));
    CHECK((*reveal)["share_of_doubt"] > 0.05);
    for (const auto& effect : effects)  // 40 cm of doubt: first of all lengths
        if (effect["of"] == "window") {
            CHECK(effect["input"] == "reveal");
            break;
        }

    const Outcome page = run_program(asked);
    CHECK(holds(page.out, "what to measure better"));
    CHECK(holds(page.out, "taping the reveal of case window (now known to 0.2 m either way)"));
    CHECK(too_long(page.out).empty());
    // Asked for by name, it is the answer: before the keys.
    CHECK(page.out.find("what to measure better") < page.out.find("clean key"));
    Arguments feet = asked;
    feet.insert(feet.end(), {"--units", "ft"});
    CHECK(holds(flat(run_program(feet).out),
                "taping the reveal of case window (now known to 8 in either way)"));
}

TEST_CASE("options of doubt that say nothing to the question are refused", "[cli][doubt]") {
    CHECK(run_program(key_of_press({"--no-doubt", "--why-unsure"})).code == 2);
    CHECK(run_program(key_of_press({"--no-doubt", "--seed", "3"})).code == 2);
    CHECK(run_program(key_of_press({"--members", "3"})).code == 2);
    CHECK(run_program(key_of_press({"--members", "many"})).code == 2);
    CHECK(run_program(key_of_press({"--seed", "-1"})).code == 2);
    const Outcome lamp = run_program(key_of_press({"--by", "lamp", "--why-unsure"}));
    CHECK(lamp.code == 2);
    CHECK(holds(lamp.err, "--why-unsure is about the sun: leave out --by lamp"));
    CHECK(run_program({"check", press, "--date", "2026-02-17"}).code == 2);
    CHECK(run_program({"check", press, "--recce", "--date", "2026-02-30"}).code == 2);
}

TEST_CASE("patch tells how far an edge may be off", "[cli][doubt]") {
    const Arguments asked{"patch", press, "--date", "2026-02-17", "--time", "13:30"};
    Arguments json = asked;
    json.emplace_back("--json");
    const auto document = answer("patch", json);
    REQUIRE(!document["instants"][0]["patches"].empty());
    for (const auto& patch : document["instants"][0]["patches"]) {
        REQUIRE(patch["edge_band_m"].is_number());
        CHECK(patch["edge_band_m"] > 0.05);  // three degrees at some metres' throw
        CHECK(patch["edge_band_m"] < 1.5);
    }
    json.emplace_back("--no-doubt");
    CHECK_FALSE(answer("patch", json)["instants"][0]["patches"][0].contains("edge_band_m"));
    const Outcome page = run_program(asked);
    CHECK(holds(page.out, "edge within "));
    CHECK(too_long(page.out).empty());
}

TEST_CASE("exterior tells between which times the light goes", "[cli][doubt]") {
    const Arguments asked{"exterior", press, "--date", "2026-10-10"};
    Arguments json = asked;
    json.emplace_back("--json");
    const auto document = answer("exterior", json);
    const auto direct = document["spots"][0]["direct"];
    REQUIRE(!direct.empty());
    const auto& last = direct.back();
    CHECK(last["ends_between_utc"][0] < last["end_utc"]);
    CHECK(last["ends_between_utc"][1] > last["end_utc"]);
    json.emplace_back("--no-doubt");
    CHECK_FALSE(answer("exterior", json)["spots"][0]["direct"][0].contains("ends_between_utc"));
    const Outcome page = run_program(asked);
    CHECK(tells(page.out, "in 9 of 10 cases begins "));
    CHECK(too_long(page.out).empty());
}

TEST_CASE("check lists how far each figure may be off", "[cli][doubt]") {
    const ScratchFile file{scratch_name("list").c_str(), half_measured()};
    const auto doubts = answer("check", {"check", file.path, "--json", "--year", "2026"})["doubts"];
    bool met = false;
    for (const auto& d : doubts)
        if (d["of"] == "window" && d["name"] == "case window" && d["key"] == "reveal_m") {
            met = true;
            CHECK(d["within_m"] == Approx(0.2));
            CHECK(d["given"] == true);
        } else {
            CHECK(d["given"] == false);
        }
    CHECK(met);
    const Outcome page = run_program({"check", file.path, "--year", "2026", "--show", "doubt"});
    CHECK(holds(page.out,
                "case window, m: left 0.02*, width 0.01*, sill 0.01*, height 0.01*, "
                "reveal 0.2\n"));
}

TEST_CASE("the recce says what to measure next, and how to note it", "[cli][doubt]") {
    const ScratchFile file{scratch_name("recce").c_str(), half_measured()};
    const Arguments asked{"check",      file.path, "--recce",   "--from",
                          "2026-02-10", "--to",    "2026-03-10"};
    Arguments json = asked;
    json.emplace_back("--json");
    const auto recce = answer("check", json)["recce"];
    CHECK(recce["first_date"] == "2026-02-10");
    CHECK(recce["intervals"] > 10);
    CHECK(recce["hold_90_min"] < recce["hold_min"]);
    const auto& steps = recce["measure"];
    for (std::size_t i = 1; i < steps.size(); ++i)
        CHECK(steps[i - 1]["share_of_doubt"] >= steps[i]["share_of_doubt"]);
    const auto reveal = std::find_if(steps.begin(), steps.end(), [](const auto& s) {
        return s["input"] == "reveal" && s["name"] == "case window";
    });
    REQUIRE(reveal != steps.end());
    CHECK((*reveal)["measured"] == false);
    CHECK((*reveal)["table"] == "[[window]] \"case window\"");
    CHECK((*reveal)["line"] == "reveal_m = ____");

    const Outcome page = run_program(asked);
    CHECK(holds(page.out, "what to measure next\n"));
    CHECK(holds(page.out, "NOT MEASURED YET"));
    CHECK(holds(page.out, "       reveal_m = ____\n"));
    CHECK(too_long(page.out).empty());
}

TEST_CASE("a room without a mark is told what its sheet lacks", "[cli][doubt]") {
    std::string text =
        without_tables(without_tables(example_text("tallow-lane"), "mark"), "camera");
    const ScratchFile file{scratch_name("bare").c_str(), text};
    const Outcome page = run_program({"check", file.path, "--recce", "--date", "2026-02-17"});
    CHECK(page.code == 0);
    CHECK(holds(page.out, "there is no [[mark]] yet: nothing to rank"));
    CHECK(holds(page.out, "not in the file yet\n"));
    const auto recce =
        answer("check", {"check", file.path, "--recce", "--date", "2026-02-17", "--json"})["recce"];
    CHECK(recce["measure"].empty());
    CHECK(recce["missing"].size() >= 2);
}

TEST_CASE("where the middle of the ranges has no key, the ranges may", "[cli][doubt]") {
    // A reveal so deep that the light of the case window is gone, or not so deep.
    std::string text = half_measured();
    text = changed(text, "reveal_m = [0.1, 0.5]", "reveal_m = [0.1, \"6 m\"]");
    const ScratchFile file{scratch_name("deep").c_str(), text};
    const Arguments asked{"check", file.path, "--recce", "--date", "2026-02-17"};
    Arguments json = asked;
    json.emplace_back("--json");
    const auto recce = answer("check", json)["recce"];
    CHECK(recce["intervals"] == 0);
    CHECK(recce["share_with_key"] > 0);
    CHECK(recce["share_with_key"] < 0.5);
    REQUIRE(recce["measure"].size() == 1);
    CHECK(recce["measure"][0]["input"] == "reveal");
    const Outcome page = run_program(asked);
    CHECK(holds(page.out, "Of 20 rooms"));
    CHECK(holds(page.out, "reveal of case window, NOT MEASURED YET, known to 3 m either way"));
    CHECK(too_long(page.out).empty());
}
