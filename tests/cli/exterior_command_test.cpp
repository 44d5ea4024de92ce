#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

#include "page.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"
#include "scratch_file.hpp"

using namespace keyhour::cli;

namespace {

using Words = std::vector<std::string>;

nlohmann::json answer(Words arguments) {
    arguments.insert(arguments.begin(), "exterior");
    arguments.push_back("--json");
    const Outcome o = run_program(arguments);
    INFO(o.err);
    REQUIRE(o.code == answered);
    REQUIRE(schema_faults("exterior", o.out) == "");
    return nlohmann::json::parse(o.out);
}

Outcome page(Words arguments) {
    arguments.insert(arguments.begin(), "exterior");
    return run_program(arguments);
}

/// A north room before a glass front.
const std::string before_glass =
    "format = 1\n[site]\nposition = \"48N 11E\"\ntime_zone = \"Europe/Berlin\"\n"
    "[room]\nfloor = [[0, 0], [6, 0], [6, 6], [0, 6]]\n"
    "walls = [\"window\", \"right\", \"back\", \"left\"]\nheight_m = 3\n"
    "bearing = { wall = \"window\", faces = 0, north = \"true\" }\n"
    "[[window]]\nname = \"north light\"\nwall = \"window\"\nleft_m = 2.4\nwidth_m = 1.2\n"
    "sill_m = 0.9\nheight_m = 1.5\nreveal_m = 0.3\n"
    "[[mark]]\nname = \"easel\"\nat = [3, 2.5]\nheight_m = 1.2\n"
    "[[building]]\nname = \"bank\"\n"
    "footprint = [[-10, -40], [14, -40], [14, -24], [-10, -24]]\nheight_m = 16\n"
    "facade = { side = 3, kind = \"glass\" }\n"
    "[[spot]]\nname = \"pavement\"\nat = [3, -10]\ncamera_bearing = 180\n";

}  // namespace

TEST_CASE("exterior answers every example on the date asked for", "[cli]") {
    for (const char* name : {"flax-road", "sundet", "tallow-lane"})
        for (const char* date : {"2026-01-10", "2026-06-21", "2026-10-25"}) {
            INFO(name << " " << date);
            const auto json = answer({example(name), "--date", date});
            CHECK(json["date"] == date);
            REQUIRE(json["spots"].size() == 1);
            const Outcome o = page({example(name), "--date", date, "--floor-lx", "50"});
            CHECK(o.code == answered);
            CHECK(too_long(o.out) == Words{});
            CHECK(holds(o.out, "Never look at the sun, least of all through a lens or sight:"));
            CHECK(holds(o.out, "UTC+"));
        }
}

TEST_CASE("exterior's parts agree with one another", "[cli]") {
    const auto json = answer({example("flax-road"), "--date", "2026-04-10", "--floor-lx", "20"});
    const auto& spot = json["spots"][0];
    CHECK(spot["direct"].size() >= 1);
    for (const auto& now : spot["instants"]) {
        bool inside = false;
        for (const auto& d : spot["direct"])
            inside = inside || (now["utc"] > d["start_utc"] && now["utc"] < d["end_utc"]);
        CHECK(now["in_direct_light"] == inside);
        CHECK(now["shaded_by"].is_null() == inside);
        for (const char* band : {"direct_normal_lx", "sky_horizontal_lx"}) {
            CHECK(now[band][0] <= now[band][1]);
            CHECK(now[band][1] <= now[band][2]);
        }
    }
    CHECK(spot["set_utc"] < spot["civil_dusk_utc"]);
    CHECK(spot["civil_dusk_utc"] < spot["nautical_dusk_utc"]);
    CHECK(spot["sky_below_floor_utc"].is_string());
    CHECK(spot["moon"]["sights"].size() == 3);
    CHECK(json["settings"]["floor_lx"] == 20);
}

TEST_CASE("exterior gives a range as days, and as a table of a line a date", "[cli]") {
    const auto json = answer({example("flax-road"), "--from", "2026-03-01", "--to", "2026-03-04"});
    REQUIRE(json["days"].size() == 4);
    CHECK(json["days"][3]["date"] == "2026-03-04");
    CHECK(json["days"][0]["spots"][0]["instants"].empty());
    const auto timed = answer({example("flax-road"), "--from", "2026-03-01", "--to", "2026-03-04",
                               "--time", "08:00,12:00"});
    CHECK(timed["days"][0]["spots"][0]["instants"].size() == 2);
    const Outcome o = page({example("flax-road"), "--from", "2026-03-01", "--to", "2026-03-04"});
    CHECK(o.code == answered);
    CHECK(too_long(o.out) == Words{});
    CHECK(holds(o.out, "We 2026-03-04"));
}

TEST_CASE("exterior shows one spot of many and suggests the nearest name", "[cli]") {
    const ScratchFile two{"exterior-two.toml",
                          example_text("sundet") +
                              "\n[[spot]]\nname = \"boat house\"\nposition = \"62.412N 5.891E\"\n"
                              "camera_bearing = 10\n"};
    CHECK(answer({two.path, "--date", "2026-05-01"})["spots"].size() == 2);
    const auto one = answer({two.path, "--date", "2026-05-01", "--spot", "boat house"});
    REQUIRE(one["spots"].size() == 1);
    CHECK(one["spots"][0]["spot"] == "boat house");
    CHECK(one["spots"][0]["wants"] == "any");
    const Outcome o = page({two.path, "--date", "2026-05-01", "--spot", "boat hose"});
    CHECK(o.code == wrong_usage);
    CHECK(holds(o.err, "did you mean \"boat house\"?"));
}

TEST_CASE("exterior rakes the wall that a spot names", "[cli]") {
    const ScratchFile wall{
        "exterior-wall.toml",
        changed(example_text("sundet"), "camera_bearing = 75\n",
                "camera_bearing = 150\nfacade_faces = 170\nview_deg = 90\ntilt_deg = 10\n")};
    const auto json = answer({wall.path, "--date", "2026-04-20"});
    const auto& facade = json["spots"][0]["facade"];
    CHECK(facade["faces_deg"] == 170);
    CHECK(facade["raking"].size() >= 1);
    const Outcome o = page({wall.path, "--date", "2026-04-20", "--show", "hours"});
    CHECK(too_long(o.out) == Words{});
    CHECK(tells(o.out, "the wall that faces S, 170 true: in the sun"));
    CHECK(tells(o.out, "light rakes it (60 to 88 degrees off square)"));
    CHECK(tells(o.out, "sun in the frame"));
    CHECK(holds(o.out, "left* w"));
}

TEST_CASE("exterior says what a file without spots needs", "[cli]") {
    const ScratchFile none{"exterior-none.toml", without_tables(example_text("flax-road"), "spot")};
    const Outcome o = page({none.path, "--date", "2026-05-01"});
    CHECK(o.code == bad_data);
    CHECK(holds(o.err, "no [[spot]]"));
    CHECK(holds(o.err, "camera_bearing"));
    CHECK(o.out.empty());
}

TEST_CASE("exterior refuses a spot without a camera's bearing", "[cli]") {
    const ScratchFile blind{"exterior-blind.toml",
                            changed(example_text("sundet"), "camera_bearing = 75\n", "")};
    const Outcome o = page({blind.path, "--date", "2026-05-01"});
    CHECK(o.code == bad_data);
    CHECK(holds(o.err, "camera_bearing"));
}

TEST_CASE("exterior asks about a spot inside a building", "[cli]") {
    const ScratchFile inside{"exterior-inside.toml",
                             changed(example_text("flax-road"), "at = [10.5, -6]", "at = [15, 2]")};
    const auto json = answer({inside.path, "--date", "2026-05-01"});
    bool asked = false;
    for (const auto& line : json["read_back"])
        asked = asked || holds(line, "place outside \"yard gate\" stands in building dye house");
    CHECK(asked);
    CHECK(json["spots"][0]["no_direct"] == "stays_in_shade");
}

// At 76 degrees north the sun of late April sets along the horizon: what is doubtful of its end is
// refraction's, and turns with no wall.
TEST_CASE("exterior asks for the bearing where it moves the light, not for a level horizon",
          "[cli]") {
    const auto told = [](const std::string& text, const char* date) {
        const ScratchFile file{"exterior-bearing.toml", text};
        const Outcome o = page({file.path, "--date", date});
        CAPTURE(o.err);
        REQUIRE(o.code == answered);
        return o.out;
    };
    std::string north =
        changed(before_glass.substr(0, before_glass.find("[[building]]")), "48N 11E", "76N 15E");
    north += "[[spot]]\nname = \"quay\"\nat = [200, -300]\ncamera_bearing = 0\n";
    const std::string level = told(changed(north, "Europe/Berlin", "Europe/Oslo"), "2026-04-23");
    CHECK(holds(level, "ends by horizon"));
    CHECK_FALSE(holds(level, "BEARING NOT MEASURED"));
    const std::string bank = told(
        changed(before_glass, "faces = 0, north = \"true\"", "faces = 180, north = \"magnetic\""),
        "2026-10-24");
    CHECK(holds(bank, "ends by building bank"));
    CHECK(holds(bank, "BEARING NOT MEASURED"));
}

TEST_CASE("exterior answers in polar day and night", "[cli]") {
    const std::string text =
        "format = 1\n[site]\nposition = \"78.2N 15.6E\"\ntime_zone = \"Europe/Oslo\"\n"
        "[[spot]]\nname = \"quay\"\nposition = \"78.2N 15.6E\"\ncamera_bearing = 0\n";
    const ScratchFile north{"exterior-north.toml", text};
    const auto june = answer({north.path, "--date", "2026-06-21"});
    CHECK(june["spots"][0]["direct"][0]["begins_by"] == "midnight");
    CHECK(june["spots"][0]["set_utc"].is_null());
    const auto december = answer({north.path, "--date", "2026-12-21"});
    CHECK(december["spots"][0]["no_direct"] == "sun_stays_down");
    const Outcome dark = page({north.path, "--date", "2026-12-21"});
    CHECK(holds(dark.out, "the sun stays below the horizon"));
    const Outcome bright = page({north.path, "--date", "2026-06-21"});
    CHECK(holds(bright.out, "all day and night"));
}

TEST_CASE("exterior takes settings and refuses what is none", "[cli]") {
    const auto json = answer({example("flax-road"), "--date", "2026-04-10", "--setup", "45",
                              "--shot", "5", "--late-light", "-6,4", "--sides", "45,135",
                              "--raking", "70,85", "--stand", "4.2"});
    CHECK(json["settings"]["set_up_min"] == 45);
    CHECK(json["settings"]["late_light_deg"] == nlohmann::json::array({-6, 4}));
    CHECK(json["settings"]["raking_deg"] == nlohmann::json::array({70, 85}));
    for (const Words& wrong :
         {Words{"--setup", "-1"}, Words{"--shot", "0"}, Words{"--late-light", "6,-4"},
          Words{"--sides", "120,60"}, Words{"--raking", "60"}, Words{"--stand", "0"},
          Words{"--floor-lx", "-5"}, Words{"--time", "25:00"}, Words{"--spot", "nowhere"},
          Words{"--date", "2026-13-01"}}) {
        Words arguments{example("flax-road"), "--date", "2026-04-10"};
        if (wrong[0] == "--date") arguments.resize(1);
        arguments.insert(arguments.end(), wrong.begin(), wrong.end());
        const Outcome o = page(arguments);
        INFO(wrong[0]);
        CHECK(o.code == wrong_usage);
        CHECK(holds(o.err, wrong[0]));
        CHECK(o.out.empty());
    }
    // The clocks skip this hour.
    const Outcome skipped =
        page({example("tallow-lane"), "--date", "2026-03-29", "--time", "01:30"});
    CHECK(skipped.code == wrong_usage);
}

TEST_CASE("exterior tells the glass opposite that throws the sun back", "[cli]") {
    const ScratchFile bank{"exterior-bank.toml", before_glass};
    const auto json = answer({bank.path, "--date", "2026-12-01"});
    REQUIRE(json["thrown_back"].size() == 1);
    CHECK(json["thrown_back"][0]["kind"] == "glass");
    CHECK(json["thrown_back"][0]["spans"][0]["marks"][0] == "easel");
    const Outcome o = page({bank.path, "--date", "2026-12-01"});
    CHECK(too_long(o.out) == Words{});
    CHECK(tells(o.out, "REACHES THE MARK easel"));
}

TEST_CASE("exterior sums up what a facade throws back over a range", "[cli]") {
    const ScratchFile bank{"exterior-bank-range.toml", before_glass};
    const Outcome o = page({bank.path, "--from", "2026-12-01", "--to", "2026-12-05"});
    INFO(o.out);
    CHECK(o.code == answered);
    CHECK(too_long(o.out) == Words{});
    CHECK(tells(o.out, "on 5 dates, 2026-12-01 to"));
    CHECK(tells(o.out, "REACHES A MARK on 5"));
}

TEST_CASE("a tree in leaf stands before the glass opposite, a bare one does not", "[cli]") {
    const ScratchFile lime{"exterior-lime.toml",
                           before_glass +
                               "[[tree]]\nname = \"lime\"\nfootprint = [[-40, -20], [50, -20], "
                               "[50, -18], [-40, -18]]\nheight_m = 40\n"
                               "leaf = [\"04\", \"10\"]\n"};
    CHECK(answer({lime.path, "--date", "2026-11-03"})["thrown_back"].size() == 1);
    CHECK(answer({lime.path, "--date", "2026-10-29"})["thrown_back"].empty());
}

TEST_CASE("exterior tells of the moon at a time of night", "[cli]") {
    const auto json = answer({example("flax-road"), "--date", "2026-03-31", "--time", "22:30"});
    const auto& now = json["spots"][0]["instants"][0];
    CHECK(now["moon"]["utc"] == now["utc"]);
    CHECK(now["moon"]["illuminated_fraction"] > 0.9);  // full on 2 April 2026
    const Outcome o = page({example("flax-road"), "--date", "2026-03-31", "--time", "22:30"});
    CHECK(holds(o.out, "22:30: moon"));
}
