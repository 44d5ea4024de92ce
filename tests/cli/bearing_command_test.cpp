#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/terminal.hpp"
#include "page.hpp"
#include "read/location_file.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"
#include "scratch_file.hpp"
#include "support/scratch_folder.hpp"

namespace {

using Arguments = std::vector<std::string>;

const std::string press = example("tallow-lane");
const std::string recce = KEYHOUR_LOCATIONS "/tallow-lane-recce/observations.toml";

Outcome bearing(Arguments arguments, const Arguments& more = {}) {
    arguments.insert(arguments.begin(), {"bearing", "--date", "2026-02-10"});
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run_program(arguments);
}

long lines_of(const std::string& page) {
    return std::count(page.begin(), page.end(), '\n');
}

nlohmann::json bearing_json(const Arguments& arguments) {
    const Outcome o = bearing(arguments, {"--json"});
    INFO(o.err);
    REQUIRE(o.code == 0);
    REQUIRE(schema_faults("bearing", o.out) == "");
    return nlohmann::json::parse(o.out);
}

}  // namespace

// The observations were made up from 197.4 degrees, but the compass stands beside steel.
TEST_CASE("bearing finds the street wall of the example, and the phone that lies", "[cli]") {
    const auto j = bearing_json({press, "--observations", recce});
    CHECK(j["wall"] == "street");
    CHECK(j["faces_deg"].get<double>() == Approx(197.4).margin(0.5));
    CHECK(j["standard_uncertainty_deg"].get<double>() < 0.5);
    CHECK(j["left_out"] == nlohmann::json{"phone by the shutter"});
    CHECK(j["observations"].size() == 5);
    CHECK(j["observations"][4]["altitude"]["wrong"] == "none");
    CHECK(j["in_file"]["faces_deg"] == 196);
    CHECK(j["written"] == false);
    REQUIRE(j["next"].size() >= 2);
    CHECK(j["next"][0]["together_deg"] <= j["next"][1]["together_deg"]);
    CHECK(j["next"][0]["together_deg"] < j["standard_uncertainty_deg"]);

    const Outcome page = bearing({press, "--observations", recce});
    CHECK(page.code == 0);
    CHECK(too_long(page.out) == Arguments{});
    CHECK(lines_of(page.out) <= 18);
    CHECK(holds(flat(page.out), "once phone by the shutter is set aside, which DOES NOT FIT"));
    CHECK(holds(page.out, "give or take differs by times its doubt\n"));
    CHECK(holds(page.out, j["line"]));
    CHECK(holds(flat(page.out), "Never look at the sun"));
    CHECK_FALSE(holds(flat(page.out), "jamb on the floor: Tue"));
    const Outcome all = bearing({press, "--observations", recce, "--show", "all"});
    CHECK(too_long(all.out) == Arguments{});
    CHECK(holds(flat(all.out), "jamb on the floor: Tue 10 February 2026 13:40 (UTC+00:00)"));
}

TEST_CASE("a site without a name opens with its position", "[cli]") {
    const ScratchFile unnamed{
        "keyhour-bearing-unnamed.toml",
        changed(example_text("tallow-lane"), "name = \"Tallow Lane Press\"\n", "")};
    CHECK(bearing({unnamed.path, "--observations", recce}).out.starts_with("52.9536 NORTH 1.15"));
    CHECK(bearing({press, "--observations", recce})
              .out.starts_with("Tallow Lane Press, 52.9536 NORTH 1.15"));
}

TEST_CASE("bearing on a phone's 40 columns", "[cli]") {
    const char* arguments[] = {"keyhour",     "bearing",        "--date",     "2026-02-10",
                               press.c_str(), "--observations", recce.c_str()};
    std::istringstream in;
    std::ostringstream out, err;
    keyhour::cli::set_line_columns(out, 40);
    CHECK(keyhour::cli::run(std::size(arguments), arguments, in, out, err) == 0);
    std::istringstream lines{out.str()};
    int taken = 0;
    for (std::string line; std::getline(lines, line);) {
        // The line for the file has to stay one; the terminal breaks it.
        if (!line.starts_with("bearing = ")) CHECK(line.size() <= 40);
        taken += line.size() > 40 ? 2 : 1;
    }
    CHECK(taken <= 27);
    CHECK(taken > 15);
}

namespace {

/// The case of the issue: compass and map along the true wall, three sightings an hour late.
Arguments by_a_late_clock(const std::string& location) {
    return {location,
            "--compass",
            "wall=street faces=197.6 north=true within_deg=3",
            "--map",
            "wall=street left=52.953544N 1.150191W right=52.953651N 1.150759W "
            "seen_from=inside within_m=1.5",
            "--graze",
            "wall=yard sun=ends at=2026-02-10T14:27 within_min=3",
            "--shadow",
            "from=1.77,2.40 to=1.87,4.00 at=2026-02-10T14:40",
            "--corner",
            "window=case window corner=sill left floor=3.62,2.54 at=2026-02-10T15:20"};
}

}  // namespace

TEST_CASE("three sightings by a clock an hour fast do not outvote compass and map", "[cli]") {
    const keyhour::test::ScratchFolder folder;
    const Arguments late = by_a_late_clock(folder.write("p.toml", example_text("tallow-lane")));
    const auto j = bearing_json(late);
    CHECK(j["settled"] == false);
    CHECK(j["line"].is_null());
    CHECK(j["clock"]["suspected"] == "1 h fast");
    CHECK(j["clock"]["faces_deg"].get<double>() == Approx(197.4).margin(0.5));
    CHECK(std::abs(j["faces_deg"].get<double>() - 197.4) < j["within_95_deg"].get<double>());
    const Outcome page = bearing(late);
    CHECK(page.code == 0);
    CHECK(too_long(page.out) == Arguments{});
    CHECK(lines_of(page.out) <= 22);
    CHECK(holds(flat(page.out), "these agree if the clock was 1 h fast (summer time left on?)"));
    CHECK(holds(flat(page.out), "say which: --clock \"1 h fast\" or --clock right"));
    CHECK_FALSE(holds(page.out, "bearing = {"));
    const Outcome written = bearing(late, {"--write"});
    CHECK(written.code == 1);
    CHECK(holds(written.err, "may have been 1 h fast"));
}

TEST_CASE("a clock that was an hour fast is said, by flag or in a file, or not believed", "[cli]") {
    const Arguments late = by_a_late_clock(press);
    // The remedy that it names, by flag and in a file.
    Arguments mended = late;
    mended.insert(mended.end(), {"--clock", "1 h fast"});
    const auto right = bearing_json(mended);
    CHECK(right["settled"] == true);
    CHECK(right["faces_deg"].get<double>() == Approx(197.4).margin(0.5));
    CHECK(right["clock_stated_fast_s"] == 3600);
    CHECK(right["observations"][3]["utc"] == "2026-02-10T13:40:00.000Z");
    const keyhour::test::ScratchFolder folder;
    const std::string file = folder.write("seen.toml",
                                          "format = 1\nclock = \"1 h fast\"\n[[observation]]\nkind "
                                          "= \"shadow\"\nfrom = [1.77, 2.40]\n"
                                          "to = [1.87, 4.00]\nat = \"2026-02-10T14:40\"\n");
    CHECK(bearing_json({press, "--observations", file})["observations"][0]["utc"] ==
          "2026-02-10T13:40:00.000Z");
    // Somebody who has looked at the clock is believed: then there is no answer at all.
    Arguments trusted = late;
    trusted.insert(trusted.end(), {"--clock", "right"});
    CHECK(bearing(trusted).code == 1);
    CHECK(holds(bearing(trusted).err, "contradict each other"));
}

TEST_CASE("flags and file add up, and another wall of the room can be asked about", "[cli]") {
    const Arguments shadow{"--shadow", "from=1.77,2.40 to=1.87,4.00 at=2026-02-10T13:40"};
    Arguments alone = shadow;
    alone.insert(alone.begin(), press);
    const auto one = bearing_json(alone);
    CHECK(one["degrees_of_freedom"] == 0);
    CHECK(one["observations"][0]["name"] == "shadow 1");
    alone.insert(alone.end(), {"--wall", "yard"});
    CHECK(bearing_json(alone)["faces_deg"].get<double>() ==
          Approx(one["faces_deg"].get<double>() - 90).margin(1e-4));
    Arguments both = shadow;
    both.insert(both.begin(), {press, "--observations", recce});
    both.insert(both.end(), shadow.begin(), shadow.end());
    const auto all = bearing_json(both);
    CHECK(all["observations"].size() == 7);
    CHECK(all["observations"][5]["name"] == "shadow 6");
    CHECK(all["observations"][6]["name"] == "shadow 7");
}

TEST_CASE("a line without a sense is named, and not written", "[cli]") {
    const keyhour::test::ScratchFolder folder;
    const std::string path = folder.write("p.toml", example_text("tallow-lane"));
    const Arguments line{path, "--shadow",
                         "from=1.77,2.40 to=1.87,4.00 order=unknown at=2026-02-10T13:40"};
    const auto j = bearing_json(line);
    CHECK(j["or_faces_deg"].get<double>() ==
          Approx(std::fmod(j["faces_deg"].get<double>() + 180, 360)).margin(1e-4));
    const Outcome page = bearing(line);
    CHECK(holds(flat(page.out), "nothing observed says which way is out"));
    CHECK(too_long(page.out) == Arguments{});
    const Outcome written = bearing(line, {"--write"});
    CHECK(written.code == 1);
    CHECK(holds(written.err, "two bearings open"));
}

TEST_CASE("writing the answer changes the bearing's line and no other byte", "[cli]") {
    const keyhour::test::ScratchFolder folder;
    const std::string before = example_text("tallow-lane");
    const std::string path = folder.write("p.toml", before);
    const Outcome o = bearing({path, "--observations", recce}, {"--write"});
    INFO(o.err);
    REQUIRE(o.code == 0);
    CHECK(holds(flat(o.out), "written into the file"));
    std::ostringstream text;
    text << std::ifstream{path}.rdbuf();
    const std::string old =
        "bearing = { wall = \"street\", faces = 196, north = \"true\", within_deg = 3 }";
    const auto at = before.find(old);
    REQUIRE(at != std::string::npos);
    const std::string after = text.str();
    CHECK(after.substr(0, at) == before.substr(0, at));
    CHECK(after.substr(after.find('\n', at)) == before.substr(at + old.size()));
    CHECK(holds(o.out, after.substr(at, after.find('\n', at) - at)));
    // Again: the same answer, and the file is sound.
    const auto j = bearing_json({path, "--observations", recce});
    CHECK(std::abs(j["in_file"]["difference_deg"].get<double>()) <= 0.0501);
    CHECK(run_program({"check", path}).code == 0);
}

TEST_CASE("a corner at the wrong hour is told from a wrong window", "[cli]") {
    // Noted at a quarter past instead of twenty past two.
    const Outcome o = bearing({press, "--observations", recce, "--corner",
                               "window=case window corner=sill left floor=3.62,2.54 "
                               "at=2026-02-10T13:20 name=an hour early"});
    CHECK(o.code == 0);
    CHECK(holds(flat(o.out), "THE CLOCK must be wrong: the time 6"));
    CHECK(too_long(o.out) == Arguments{});
    const ScratchFile low{
        ("bearing_low_" + std::to_string(getpid()) + ".toml").c_str(),
        changed(example_text("tallow-lane"), "left_m = 4.2\nwidth_m = 1.4\nsill_m = 0.85",
                "left_m = 4.2\nwidth_m = 1.4\nsill_m = 0.65")};
    const Outcome w = bearing({low.path, "--observations", recce});
    CHECK(w.code == 0);
    CHECK(holds(flat(w.out), "THE WINDOW'S HEIGHTS must be wrong: sill at 0.8"));
}

TEST_CASE("a crew that tapes in feet reads feet of its observations, JSON metres", "[cli]") {
    const Outcome o =
        bearing({press, "--observations", recce, "--units", "ft", "--show", "observations"});
    CHECK(o.code == 0);
    const std::string page = flat(o.out);
    CHECK(holds(page, "shadow from [5 ft 9 1/2 in, 7 ft 10 1/2 in]"));  // 1.77 m, 2.40 m
    CHECK(holds(page, "each within 0.39 in"));                          // 1 cm
    CHECK_FALSE(holds(page, " m of it"));
    CHECK_FALSE(holds(page, " mm"));
    CHECK(too_long(o.out) == Arguments{});
    const auto j = bearing_json({press, "--observations", recce, "--units", "ft"});
    CHECK(holds(flat(j["read_back"].dump()), "shadow from [1.77,2.4]"));
}

TEST_CASE("a file that has the wall backwards is told so, not believed", "[cli]") {
    const ScratchFile backwards{("bearing_back_" + std::to_string(getpid()) + ".toml").c_str(),
                                changed(example_text("tallow-lane"), "faces = 196", "faces = 16")};
    const Outcome o = bearing({backwards.path, "--observations", recce});
    CHECK(o.code == 0);
    CHECK(holds(flat(o.out), "THE FILE'S BEARING POINTS INTO THE ROOM"));
}

TEST_CASE("a sun behind the wall at the time noted is told beside the observation", "[cli]") {
    const std::string morning = "wall=street angle_deg=86 hand=left at=2026-06-10T06:00 name=dawn";
    const auto j = bearing_json({press, "--observations", recce, "--shadow", morning});
    CHECK(j["left_out"] == nlohmann::json{"dawn", "phone by the shutter"});
    CHECK(j["observations"][5]["sun_behind_wall_deg"].get<double>() > 30);
    const Outcome with_others = bearing({press, "--observations", recce, "--shadow", morning});
    CHECK(holds(flat(with_others.out),
                "degrees BEHIND street wall then, at this bearing: is the time"));
    const Outcome alone = bearing({press, "--shadow", morning});
    CHECK(alone.code == 0);
    CHECK(holds(flat(alone.out), "at the file's bearing the sun was"));
    CHECK(too_long(alone.out) == Arguments{});
}

TEST_CASE("bearing refuses what it can't answer, and says why", "[cli]") {
    struct Case {
        Arguments arguments;
        int code;
        const char* says;
    };
    const Case cases[] = {
        {{press}, 2, "no observation: give --observations FILE, or one of --compass, --map"},
        {{press, "--wall", "streat", "--observations", recce}, 2, "did you mean \"street\"?"},
        {{press, "--compass", "wall=street faces=361 north=true"}, 2, "is out of range"},
        {{press, "--compass", "wall=streat faces=196 north=true"}, 2, "did you mean \"street\"?"},
        {{press, "--compass", "wall=street faces=196"}, 2, "\"north\" is missing"},
        {{press, "--compass", "193"}, 2, "accepted: NAME=VALUE"},
        {{press, "--shadow", "from=1,2 to=1,3 at=2026-02-10T03:20"},
         1,
         "degrees below the horizon then; a 12-hour clock?"},
        {{press, "--shadow", "from=1,2 to=1.005,2.005 at=2026-02-10T13:20"},
         1,
         "each is known within 10 mm: they give no direction"},
        {{press, "--map",
          "wall=street left=52.9536N 1.1501W right=52.9536N 1.1502W seen_from=inside within_m=5"},
         1,
         "each is known within 5 m"},
        {{press, "--compass", "wall=street faces=196 north=true within_deg=1", "--compass",
          "wall=street faces=286 north=true within_deg=1"},
         1,
         "contradict each other"},
        {{press, "--observations", "no-such.toml"}, 1, "cannot be read"},
        {{press, "--observations", recce, "--clock-within", "-5"}, 2, "0 to 3600"},
        {{press, "--observations", recce, "--clock", "an hour"}, 2, "as in \"1 h fast\""},
        {{press, "--observations", recce, "--show", "nxt"}, 2, "did you mean \"next\"?"},
        {{KEYHOUR_LOCATIONS "/mill-green/mill-green.toml", "--observations", recce},
         1,
         "has no [room]"}};
    for (const Case& c : cases) {
        const Outcome o = bearing(c.arguments);
        CAPTURE(c.arguments, o.out);
        CHECK(o.code == c.code);
        CHECK_THAT(o.err, Catch::Matchers::Contains(c.says));
        CHECK(o.out.empty());
    }
}

TEST_CASE("an angle in an observation may have its unit", "[cli][bearing]") {
    const auto faces = [](const char* flag) {
        return run_program({"bearing", press, "--date", "2026-02-11", "--json", "--compass", flag});
    };
    const Outcome plain = faces("wall=street faces=197.4 north=true within_deg=3");
    CHECK(plain.code == keyhour::cli::answered);
    CHECK(faces("wall=street faces=197.4 true north=true within_deg=3 degrees").out == plain.out);
    CHECK(faces("wall=street faces=197.4 m north=true within_deg=3").code ==
          keyhour::cli::wrong_usage);
}

TEST_CASE("the help of bearing has an example and fits the page", "[cli]") {
    const Outcome o = run_program({"bearing", "--help"});
    CHECK(o.code == 0);
    CHECK(holds(flat(o.out), "example:"));
    CHECK(too_long(o.out) == Arguments{});
}
