#include <unistd.h>

#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "keyhour/study/plan_search.hpp"
#include "page.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"
#include "scratch_file.hpp"
#include "scratch_folder.hpp"

namespace {

using Catch::Contains;
using Arguments = std::vector<std::string>;

const std::string shoot = example("bindery-and-wharf/shoot");

Outcome plan(Arguments arguments) {
    arguments.insert(arguments.begin(), "plan");
    return run_program(arguments);
}

nlohmann::json plan_json(Arguments arguments) {
    arguments.emplace_back("--json");
    const Outcome o = plan(arguments);
    INFO(o.err);
    REQUIRE(o.code == 0);
    REQUIRE(schema_faults("plan", o.out) == "");
    return nlohmann::json::parse(o.out);
}

nlohmann::json scene_of(const nlohmann::json& json, const std::string& name) {
    for (const auto& day : json["days"])
        for (const auto& scene : day["scenes"])
            if (scene["scene"] == name) return scene;
    FAIL(name << " is not planned");
    return {};
}

/// The example beside its locations, with one change.
struct OtherShoot {
    ScratchFile file;
    explicit OtherShoot(const std::string& from, const std::string& to)
        // Tests beside this one, each a process of its own, use others.
        : file{("keyhour-plan-test-" + std::to_string(::getpid()) + ".toml").c_str(),
               text(from, to)} {}

    static std::string text(const std::string& from, const std::string& to) {
        std::string all = changed(example_text("bindery-and-wharf/shoot"), from, to);
        for (const char* place : {"bindery.toml", "hemp-wharf.toml"})
            all = changed(all, std::string{"\""} + place,
                          std::string{"\"" KEYHOUR_LOCATIONS "/bindery-and-wharf/"} + place);
        return all;
    }
};

}  // namespace

TEST_CASE("plan lays the example's scenes over both days", "[plan]") {
    const auto json = plan_json({shoot});
    CHECK(json["exists"] == true);
    CHECK(json["dropped"].empty());
    std::size_t scenes = 0;
    for (const auto& day : json["days"])
        scenes += day["scenes"].size();
    CHECK(scenes == 10);
    const auto lock = scene_of(json, "taking apart");
    CHECK(lock["repeatable"] == false);
    CHECK(lock["cloth"].size() == 1);
    CHECK(lock["slack_min"] >= 60);
    CHECK(lock["is_sure"] == true);
    CHECK(scene_of(json, "interview")["end_utc"] <= lock["set_up_utc"]);
    CHECK(scene_of(json, "sewing")["set_up_utc"] == scene_of(json, "sewing")["start_utc"]);
}

TEST_CASE("plan's light is that of key and exterior, to the minute", "[plan]") {
    const auto json = plan_json({shoot});
    const auto hands = scene_of(json, "hands in the sun");
    const std::string date = hands["start_local"].get<std::string>().substr(0, 10);
    const std::string bindery = example("bindery-and-wharf/bindery");
    const Outcome o = run_program({"key", bindery, "--date", date, "--window", "lane window",
                                   "--camera", "A", "--no-light", "--no-doubt", "--json"});
    const auto key = nlohmann::json::parse(o.out)["intervals"][0];
    const std::string from = hands["start_utc"], to = hands["end_utc"];
    CHECK(from >= key["sure"][0].get<std::string>());
    CHECK(to <= key["sure"][1].get<std::string>());
    // The latest beginning and 15 minutes: the whole minute before the key's sure end.
    const std::string last = hands["latest_start_utc"], end = key["sure"][1];
    const auto minute = [](const std::string& t) {
        return 60 * std::stoi(t.substr(11, 2)) + std::stoi(t.substr(14, 2));
    };
    CHECK(minute(last) + 15 == minute(end));
    const auto walk = scene_of(json, "walk home");
    const Outcome e = run_program({"exterior", example("bindery-and-wharf/hemp-wharf"), "--date",
                                   "2026-03-10", "--spot", "lock gate", "--json"});
    const auto late = nlohmann::json::parse(e.out)["spots"][0]["late_light"].back();
    CHECK_THAT(late["end_utc"].get<std::string>(), Contains("T18:20:"));
    CHECK(walk["latest_start_utc"] == "2026-03-10T18:00:00Z");
}

TEST_CASE("plan's timetable fits 80 and 40 columns and opens with its answer", "[plan]") {
    const Outcome o = plan({shoot});
    CHECK(o.code == 0);
    CHECK(too_long(o.out) == Arguments{});
    CHECK_THAT(o.out, Catch::StartsWith("Taken apart: 10 scenes on 2 days, all rules kept"));
    CHECK_THAT(o.out, Contains("LOCK 11:05 to 13:05 with its over-run: nothing is touched"));
    CHECK_THAT(o.out, Contains("move to wharf, 25 min"));
    CHECK_THAT(o.out, Contains("20 min late all day: all holds"));
    CHECK_THAT(o.out, Contains("No sun on Tue 10 March 2026: nothing is lost. Tue 10"));
    CHECK_THAT(o.out, Contains("The days swapped: "));
}

TEST_CASE("plan --now lays the rest of the day again", "[plan]") {
    const auto json = plan_json({shoot, "--date", "2026-03-10", "--now", "11:40", "--done",
                                 "interview,sewing", "--late", "20"});
    REQUIRE(json["exists"] == true);
    for (const auto& day : json["days"])
        for (const auto& scene : day["scenes"]) {
            CHECK(scene["scene"] != "interview");
            CHECK(scene["set_up_utc"] >= "2026-03-10T12:00:00Z");
        }
    CHECK(scene_of(json, "taking apart")["start_utc"] >= "2026-03-10T12:40:00Z");
    CHECK(json["overcast"].empty());
}

TEST_CASE("plan says which rules can't hold together, and the least that would have to give",
          "[plan]") {
    // The wharf is 25 minutes away; the late light there ends at 18:20, the binder's door closes
    // later.
    const OtherShoot early{"hours = [\"08:00\", \"20:00\"]", "hours = [\"08:00\", \"17:30\"]"};
    const auto json = plan_json({early.file.path});
    CHECK(json["exists"] == false);
    CHECK(json["is_proven"] == true);
    REQUIRE(json["conflict"]["is_minimal"] == true);
    REQUIRE(json["conflict"]["rules"].size() >= 2);
    const Outcome o = plan({early.file.path});
    CHECK(o.code == 0);
    CHECK(too_long(o.out) == Arguments{});
    CHECK_THAT(o.out, Contains("NO PLAN. These can't hold together:"));
}

TEST_CASE("where the search can't tell of all scenes, plan names the few that have no place",
          "[plan]") {
    // Back light stands on the corner for a minute less than the scene and its set-up take.
    const Outcome o = plan({shoot, "--if", "scene.lane corner.light=back"});
    CHECK(o.code == 0);
    CHECK_THAT(o.out, Contains("NO PLAN. These can't hold"));
    CHECK_THAT(o.out, Contains("\n  \"lane corner\" in its back light\n"));
    CHECK_THAT(o.out, !Contains("walk home"));
    CHECK_THAT(o.out, Contains("\n  \"lane corner\" 1 min shorter\n"));
}

TEST_CASE("plan's spreadsheet has a record a scene", "[plan]") {
    const Outcome o = plan({shoot, "--csv"});
    CHECK(o.code == 0);
    CHECK(std::count(o.out.begin(), o.out.end(), '\n') == 11);
    CHECK_THAT(o.out, Contains("2026-03-10,taking apart,bindery,lamp key,no,0,"
                               "2026-03-10T10:25:00+00:00,2026-03-10T11:05:00+00:00,"));
}

TEST_CASE("plan refuses what it can't read, with the remedy", "[plan]") {
    CHECK(plan({shoot, "--json", "--csv"}).code == 2);
    CHECK(plan({shoot, "--done", "interview"}).code == 2);
    const Outcome day = plan({shoot, "--date", "2026-03-12", "--now", "10:00"});
    CHECK(day.code == 2);
    CHECK_THAT(day.err, Contains("accepted: --date 2026-03-10 or 2026-03-11"));
    const Outcome name =
        plan({shoot, "--date", "2026-03-10", "--now", "10:00", "--done", "intervew"});
    CHECK(name.code == 2);
    CHECK_THAT(name.err, Contains("interview"));
    const OtherShoot none{"crew = 2", "crew = 0"};
    const Outcome crew = plan({none.file.path});
    CHECK(crew.code == 1);
    CHECK_THAT(crew.err, Contains("accepted: a whole number, 1 to 50"));
    CHECK(plan({example("no-such")}).code == 1);
}

TEST_CASE("plan writes a page a day, a calendar with alarms and a spreadsheet", "[plan]") {
    if (!keyhour::study::can_plan()) return;
    const ScratchFolder folder{"keyhour_plan_papers"};
    const std::string out = (folder.path / "plan").string();
    const Outcome o = plan({shoot, "--out", out});
    INFO(o.err);
    REQUIRE(o.code == 0);
    CHECK_THAT(o.out, Contains("plan-2026-03-10.html") && Contains("plan-2026-03-11.html") &&
                          Contains("plan.ics") && Contains("plan.csv"));
    const auto read = [&](const char* name) {
        std::ostringstream text;
        text << std::ifstream{folder.path / "plan" / name, std::ios::binary}.rdbuf();
        return text.str();
    };
    const std::string page = read("plan-2026-03-10.html");
    CHECK_THAT(page, Contains("LOCK 11:05 to 13:05 with its over-run") && Contains("walk home") &&
                         Contains("20 min late all day") && Contains("No sun on Tue 10 March") &&
                         !Contains("<script"));
    const std::string calendar = read("plan.ics");
    CHECK_THAT(calendar, Contains("SUMMARY:Lock: taking apart\r\n") &&
                             Contains("DTSTART;TZID=Europe/London:20260310T110500\r\n") &&
                             Contains("LOCATION:wharf\\, Taken apart\r\n") &&
                             Contains("DESCRIPTION:Begin: Rig: walk home\r\n"));
    CHECK(read("plan.csv") == plan({shoot, "--csv"}).out);
    // Written again it takes its own place, and moves nothing.
    REQUIRE(plan({shoot, "--out", out}).code == 0);
    CHECK_THAT(read("plan.ics"), !Contains("SEQUENCE:1"));
    std::ofstream{folder.path / "plan" / "plan.csv"} << "mine";
    CHECK(plan({shoot, "--out", out}).code != 0);
    CHECK(read("plan.csv") == "mine");
}

TEST_CASE("a scene without light on any of the days is named, with the days", "[plan]") {
    if (!keyhour::study::can_plan()) return;
    const std::string scene = "scene.hands in the sun.";
    const Outcome o =
        plan({shoot, "--if", scene + "window=yard window", "--if", scene + "may_be_dropped=false"});
    CHECK(o.code == 0);
    CHECK_THAT(o.out, Contains("NO PLAN") &&
                          Contains("\"hands in the sun\": no sun key on any of the days"));
}
