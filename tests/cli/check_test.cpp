#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "page.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"
#include "scratch_file.hpp"

namespace {

const std::string press = KEYHOUR_LOCATIONS "/tallow-lane.toml";

std::string contents(const std::string& path) {
    std::ostringstream text;
    text << std::ifstream{path}.rdbuf();
    return text.str();
}

/// The press's file with one change.
std::string changed(const std::string& from, const std::string& to) {
    std::string text = contents(press);
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("check prints what was understood of the press", "[cli]") {
    const Outcome o = run_program({"check", press, "--year", "2026", "--show", "all"});
    CHECK(o.code == 0);
    CHECK(o.err.empty());
    for (const char* line :
         {"Tallow Lane Press, 52.95 NORTH 1.15 WEST, 61 m above the sea\n",
          "\nsound; nothing to ask\n", "1.1505 degrees WEST",
          "street wall faces south-south-west (196 true, give or take 3): looking out you\n"
          "  look SSW\n",
          "room: 33 m2, 3.10 m high, floor 0.40 m above the ground\n",
          "window press window (street wall, 1.10 m from its left-hand corner)\n"
          "  opening 1.40 x 1.60 m, sill 0.85 m, head 2.45 m, reveal 0.28 m\n"
          "  1 upright and 2 level bars: 6 panes of 0.69 x 0.51 m\n"
          "  glass single, cover open\n"
          "  sun 20 March 9.0 h",
          "glass single, cover sheer\n", "how far each figure may be off",
          "on its axis, 56000 lm"}) {
        CAPTURE(line, o.out);
        CHECK(o.out.find(line) != std::string::npos);
    }
}

TEST_CASE("every example's check fits 80 columns and keeps to the schema", "[cli]") {
    for (const auto& entry : std::filesystem::directory_iterator{KEYHOUR_LOCATIONS}) {
        if (entry.path().extension() != ".toml") continue;  // what they read beside them
        CHECK(too_long(run_program({"check", entry.path().string()}).out) ==
              std::vector<std::string>{});
        const Outcome o = run_program({"check", entry.path().string(), "--json"});
        CAPTURE(entry.path(), o.err);
        CHECK(o.code == 0);
        CHECK(schema_faults("check", o.out) == "");
    }
}

TEST_CASE("a site without a room is checked too", "[cli]") {
    const ScratchFile bare{"keyhour-check-bare.toml",
                           "format = 1\n[site]\nposition = \"10N 20E\"\ntime_zone = \"UTC0\"\n"};
    const Outcome o = run_program({"check", bare.path, "--json"});
    CHECK(o.code == 0);
    CHECK(schema_faults("check", o.out) == "");
    CHECK(nlohmann::json::parse(o.out)["room"].is_null());
    CHECK(run_program({"check", bare.path}).out.find("sound; ") != std::string::npos);
}

TEST_CASE("a window without sun all year is asked about", "[cli]") {
    // The horizon hides the whole northern half of the sky, and the street now faces north.
    std::string text = changed("faces = 196", "faces = 0");
    const std::string from =
        "horizon = [[0, 3], [90, 6], [140, 4], [180, 2], [235, 2.5], [270, 9], [320, 5]]";
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    text.replace(at, from.size(), "horizon = [[95, 0], [265, 0], [270, 50], [90, 50]]");
    const ScratchFile file{"keyhour-check-north.toml", text};
    const Outcome o = run_program({"check", file.path, "--year", "2026"});
    CHECK(o.code == 0);
    CAPTURE(o.out);
    CHECK(tells(o.out, "none all year"));
    CHECK(o.out.find("sound") == std::string::npos);
    CHECK(holds(o.out, "to be settled first: \"please check\" above\n"));
    const Outcome json = run_program({"check", file.path, "--year", "2026", "--json"});
    CHECK(schema_faults("check", json.out) == "");
    CHECK(holds(json.out,
                "please check: window \\\"press window\\\" gets no sun in 2026. Was the bearing "
                "read facing in instead of out? With the opposite bearing it would get "));
    const auto window = nlohmann::json::parse(json.out)["room"]["windows"][0];
    CHECK(window["sun_in_year"] == false);
    CHECK(window["opposite"]["sun_h"].get<double>() > 4);
}

TEST_CASE("a room that never sees the sun is asked for its bearing and hemisphere", "[cli]") {
    // A roof all round but in the north: no wall of this room can have sun.
    const ScratchFile file{
        "keyhour-check-dark.toml",
        changed("horizon = [[0, 3], [90, 6], [140, 4], [180, 2], [235, 2.5], [270, "
                "9], [320, 5]]",
                "horizon = [[0, 75], [180, 75]]")};
    const Outcome o = run_program({"check", file.path, "--year", "2026", "--json"});
    CHECK(o.code == 0);
    CHECK(holds(o.out,
                "no window of this room gets sun on any day of 2026 at the bearing stated "
                "(street faces 196). Is the bearing right, and is the hemisphere?"));
}

TEST_CASE("a file's errors go to standard error, all of them", "[cli]") {
    const ScratchFile bad{"keyhour-check-bad.toml", changed("sill_m = 0.85", "sil_m = 0.85")};
    const Outcome o = run_program({"check", bad.path});
    CHECK(o.code == 1);
    CHECK(o.out.empty());
    CHECK(o.err.find("unknown key \"sil_m\" in [[window]] \"press window\"; did you mean "
                     "\"sill_m\"?\n  sil_m = 0.85\n  ^\n") != std::string::npos);
    const Outcome both = run_program({"check", bad.path, press, "--json"});
    CHECK(both.code == 3);
    CHECK(schema_faults("check", both.out) == "");
    CHECK(run_program({"check", "nowhere.toml"}).code == 1);
    CHECK(run_program({"check"}).code == 2);
    CHECK(run_program({"check", press, "--year", "1492"}).code == 2);
    CHECK(run_program({"check", press, "--year", "soon"}).code == 2);
}

TEST_CASE("new writes a file that check reads and asks about, and overwrites nothing unasked",
          "[cli]") {
    const std::string path = (ScratchFile::own_folder() / "keyhour-new-test.toml").string();
    std::filesystem::remove(path);
    const Outcome written = run_program({"new", path, "--name", "Old \"Forge\""});
    CHECK(written.code == 0);
    CHECK(written.err.empty());
    const Outcome checked = run_program({"check", path});
    CHECK(checked.code == 0);
    CHECK(holds(checked.out, "Old \"Forge\", "));
    CHECK(checked.out.find("sound; nothing to ask\n") == std::string::npos);
    CHECK(checked.out.find("this is still the starter") != std::string::npos);
    const std::string before = contents(path);
    const Outcome again = run_program({"new", path});
    CHECK(again.code == 1);
    CHECK(again.err == path + ": exists already; --force overwrites it\n");
    CHECK(contents(path) == before);
    CHECK(run_program({"new", path, "--force"}).code == 0);
    CHECK(contents(path) != before);
    std::filesystem::remove(path);
}

TEST_CASE("new writes to the output when the path is a dash", "[cli]") {
    const Outcome o =
        run_program({"new", "-", "--position", "45.1S 171E", "--zone", "Pacific/Auckland"});
    CHECK(o.code == 0);
    CHECK(o.out.starts_with("# A location for keyhour."));
    CHECK(o.out.find("position = \"45.1S 171E\"\n") != std::string::npos);
}

TEST_CASE("new refuses what it could not read again", "[cli]") {
    const Outcome zone = run_program({"new", "-", "--zone", "Europe/Lundon"});
    CHECK(zone.code == 2);
    CHECK(zone.out.empty());
    CHECK(zone.err.starts_with("keyhour new: time zone \"Europe/Lundon\" is not known"));
    CHECK(run_program({"new", "-", "--name", ""}).code == 2);
    CHECK(run_program({"new", "-", "--name", "\xff"}).code == 2);
    CHECK(run_program({"new", "-", "--position", "91N 0E"}).code == 2);
    CHECK(run_program({"new"}).code == 2);
    CHECK(run_program({"new", ""}).code == 2);
    const Outcome folder = run_program({"new", KEYHOUR_LOCATIONS});
    CHECK(folder.code == 1);
    CHECK(folder.err == KEYHOUR_LOCATIONS ": cannot be written: it is a folder\n");
}
