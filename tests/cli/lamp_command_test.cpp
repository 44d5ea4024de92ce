#include <unistd.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

#include "page.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"
#include "scratch_file.hpp"

namespace {

using Words = std::vector<std::string>;

Words asked(Words rest) {
    Words all{"lamp", example("tallow-lane"), "--date", "2026-02-17"};
    all.insert(all.end(), rest.begin(), rest.end());
    return all;
}

nlohmann::json answer(Words words) {
    words.push_back("--json");
    const Outcome o = run_program(words);
    INFO(o.err);
    REQUIRE(o.code == 0);
    REQUIRE(schema_faults("lamp", o.out) == "");
    return nlohmann::json::parse(o.out);
}

std::string scratch_name(const char* what) {
    return "keyhour-lamp-" + std::string{what} + "-" + std::to_string(getpid()) + ".toml";
}

}  // namespace

TEST_CASE("lamp answers fit 80 columns and keep to the schema", "[cli][lamp]") {
    for (const Words& rest :
         {Words{"--like", "13:30"}, Words{"--like", "13:30", "--at", "17:00", "--show", "all"},
          Words{"--like", "09:30", "--window", "press window"},
          Words{"--key-angle", "45", "--height", "2.5"},
          Words{"--key-angle", "45", "--height", "2.5", "--light-from", "left", "--hold", "90"},
          Words{"--like", "13:30", "--distance", "4", "--ratio", "4"},
          Words{"--like", "13:30", "--ratio", "4", "--convention", "key-plus-fill", "--hold",
                "200"},
          Words{"--like", "13:30", "--sun-key", "--ratio", "8"},
          Words{"--like", "16:40", "--ground-below", "1.4", "--farthest", "30", "--alike", "50"}}) {
        const Outcome o = run_program(asked(rest));
        CAPTURE(rest, o.err, o.out);
        CHECK(o.code == 0);
        CHECK(too_long(o.out) == Words{});
        const bool by_lamp = std::ranges::find(rest, "--sun-key") == rest.end();
        CHECK(tells(o.out, "local codes and licensed practice decide.") == by_lamp);
        answer(asked(rest));
    }
}

TEST_CASE("a stand that is too low says not from there, and what is possible", "[cli][lamp]") {
    const ScratchFile low{
        scratch_name("low").c_str(),
        changed(example_text("tallow-lane"), "stand_max_m = 3.6", "stand_max_m = 2.4")};
    const Words words{"lamp", low.path, "--date", "2026-02-17", "--like", "13:30"};
    const auto json = answer(words);
    CHECK(json["reachable"] == false);
    CHECK(json["wanted"]["obstacles"][0] == "the stand goes to 2.4 m");
    CHECK(json["nearest"]["obstacles"].empty());
    CHECK(json["nearest"]["height_above_ground_m"].get<double>() < 2.4 + 1e-5);
    CHECK(json["nearest"]["coverage"].get<double>() >= 0.95);
    CHECK(json["nearest_off_deg"].get<double>() > 0);
    CHECK(tells(run_program(words).out, "NOT FROM THERE: the stand goes to 2.4 m"));
    // The higher stand of the example matches that sun: same direction, 3.6 m high.
    const auto high = answer(asked({"--like", "13:30"}));
    CHECK(high["reachable"] == true);
    CHECK(high["nearest"].is_null());
    CHECK(high["light"]["tilt_deg"].get<double>() ==
          Approx(-high["sun"]["apparent_altitude_deg"].get<double>()));
    CHECK(high["wanted"]["height_above_ground_m"].get<double>() == Approx(3.6));
}

TEST_CASE("lamp says in words that can be read where it stands and what it gives",
          "[cli][lamp][show]") {
    const Words question{"--like", "13:30", "--at", "17:30", "--ratio", "16", "--hold", "120"};
    const auto page = [&](const Words& more) {
        Words words = asked(question);
        words.insert(words.end(), more.begin(), more.end());
        const Outcome o = run_program(words);
        CAPTURE(o.err);
        REQUIRE(o.code == 0);
        return flat(o.out);
    };
    const std::string brief = page({}), full = page({"--show", "all"}),
                      feet = page({"--units", "ft"});
    for (const char* fact :
         {"Tallow Lane Press, 52.95 NORTH 1.15 WEST Tue 17 February 2026, UTC+00:00",
          "key lamp like the sun of 13:30 (SSW, 23 high), case window on type case",
          "stand 2.41 m off the wall, 0.24 m right of the window's middle (from inside), 4.90 "
          "m from the mark",
          "lamp 3.60 m above ground (3.20 m above floor), tilt 23 down, pan 3 right",
          "key angle 50 (camera A), light from the subject's left; mark lit 100 %",
          "11 klx at the mark, 2.4 stops under that sun; key:fill about 90:1; 45 mired cooler",
          "its patch on wall back is 2.7 times as wide as the sun's (3.5 m2, not 0.46 m2), soft "
          "edge "
          "61 cm, not 5 cm",
          "fill panel for 16:1, key to fill: 1.38 m from the mark, aimed at it",
          "1200 W; no battery_h in the file: mains, or ask"}) {
        CAPTURE(fact, brief);
        CHECK(holds(brief, fact));
    }
    for (const char* fact :
         {"patch: floor 10 m2, soft edge 41 cm; wall back 3.5 m2, soft edge 61 cm",
          "middles of its patch and the sun's lie 0.34 m apart",
          "at most 10 % wider from 52.2 m to the mark on: not from there, the stand goes to 3.6 m",
          "bare 12 klx; glass passes 0.90 at 24 degrees; that sun 60 klx",
          "falls by 0.18 stop across the mark and 1.4 from there",
          "spread by 3.5 degrees across the mark",
          "room's own light Tue 17 February 2026 17:30 (UTC+00:00): 19 lx beside the key, fill "
          "about "
          "4 lx",
          "key 11 klx to fill about 100 lx: about 6 stops (key:fill about 90:1; key plus fill:fill "
          "about 90:1)",
          "5600 K; that sun 4500 K: the lamp is 45 mired cooler", "on the plan x 2.06 y -2.69 m",
          "position: 52.9536 degrees NORTH"}) {
        CAPTURE(fact, full);
        CHECK(holds(full, fact));
        CHECK_FALSE(holds(brief, fact));
    }
    CHECK(holds(feet, "stand 7 ft 11 in off the wall, 9 1/2 in right of the window's middle"));
    CHECK(holds(feet, "lamp 11 ft 9 1/2 in above ground (10 ft 6 in above floor)"));
    CHECK_FALSE(holds(feet, " m "));
    const std::string far = page({"--units", "ft", "--distance", "60 ft"});
    CAPTURE(far);
    CHECK(holds(far, "60 ft from the mark"));
    CHECK(holds(far, "(wanted 48 ft off the wall, 29 ft 3 1/2 in above the ground)"));
    CHECK(holds(far, "stand 53 ft off the wall, 3 ft 1 in right"));
    const Outcome line = run_program(asked({"--like", "13:30", "--line"}));
    CHECK(line.out ==
          "key lamp through case window: 2.41 m off the wall, 0.24 m right of the window's middle, "
          "3.60 m up, tilt 23 down, 11 klx\n");
}

TEST_CASE("lengths of a lamp are typed in metres or in feet and inches", "[cli][lamp]") {
    const auto metres = answer(asked({"--like", "13:30", "--distance", "4"}));
    CHECK(metres["wanted"]["distance_m"].get<double>() == Approx(4));
    const auto feet = answer(asked({"--like", "13:30", "--distance", "13 ft 1 1/2 in"}));
    CHECK(feet["wanted"]["distance_m"].get<double>() == Approx(13 * 0.3048 + 1.5 * 0.0254));
    const Outcome wrong = run_program(asked({"--like", "13:30", "--distance", "4 furlongs"}));
    CHECK(wrong.code == 2);
    CHECK(holds(wrong.err, "--distance \"4 furlongs\" is not a length: "));
    CHECK(holds(wrong.err, "such as \"8 ft 2 in\""));
    for (const char* typed : {"nan", "inf", "0x10", "8,5"})
        CHECK(run_program(asked({"--like", "13:30", "--distance", typed})).code == 2);
    CHECK(run_program(asked({"--like", "13:30", "--units", "yards"})).err ==
          "--units \"yards\": accepted: ft, for feet and inches; m, for metres\n");
}

TEST_CASE("level, ratio, battery and fill agree with one another", "[cli][lamp]") {
    const auto json =
        answer(asked({"--like", "13:30", "--ratio", "4", "--hold", "180", "--fill", "fill panel"}));
    const auto& light = json["light"];
    const double level = light["level_lx"];
    const auto& used = json["reachable"] == true ? json["wanted"] : json["nearest"];
    CHECK(level ==
          Approx(light["bare_lx"].get<double>() * light["glass_transmittance"].get<double>() *
                 used["coverage"].get<double>()));
    CHECK(light["bare_lx"].get<double>() ==
          Approx(12000 * 25 / std::pow(used["distance_m"].get<double>(), 2)).epsilon(1e-5));
    CHECK(json["ratio"]["key_lx"].get<double>() == Approx(level));
    CHECK(json["ratio"]["key_plus_fill_to_fill"].get<double>() ==
          Approx(json["ratio"]["key_to_fill"].get<double>() + 1).epsilon(1e-4));
    CHECK(json["battery"]["burns_min"].is_null());  // the key lamp is on the mains
    CHECK(json["fill"]["convention"] == "key to fill");
    CHECK(json["fill"]["wanted_fill_lx"].get<double>() == Approx(level / 4));
    const double from_lamp = json["fill"]["lamp_lx"];
    CHECK(json["fill"]["distance_m"].get<double>() == Approx(std::sqrt(1100 / from_lamp)));
    CHECK(json["colour"]["mired_from_sun"].get<double>() ==
          Approx(1e6 / 5600 - 1e6 / json["colour"]["sun_kelvin"].get<double>()).margin(0.05));
}

TEST_CASE("what cannot be asked of a lamp is told", "[cli][lamp]") {
    struct Wrong {
        Words words;
        int code;
        std::string says;
    };
    const ScratchFile bare{scratch_name("bare").c_str(),
                           without_tables(example_text("tallow-lane"), "lamp")};
    for (const Wrong& wrong : std::vector<Wrong>{
             {asked({}), 2, "from where should the light come?"},
             {asked({"--like", "23:00"}), 2, "--like 23:00: the sun is not up then on Tuesday"},
             {asked({"--like", "25:00"}), 2, "--like: "},
             {asked({"--like", "13:30", "--key-angle", "30"}), 2, "give one of them"},
             {asked({"--key-angle", "30"}), 2, "--key-angle needs --height"},
             {asked({"--key-angle", "300", "--height", "2"}), 2,
              "--key-angle 300: accepted: 0 to 180 degrees"},
             {asked({"--like", "13:30", "--distance", "-4"}), 2,
              "--distance -4: accepted: 0.1 to 20000 metres"},
             {asked({"--like", "13:30", "--distance", "-1"}), 2, "--distance -1: accepted"},
             {asked({"--like", "13:30", "--lamp", "key lmp"}), 2, "did you mean \"key lamp\"?"},
             {asked({"--like", "13:30", "--lamp", "fill panel"}), 2,
              "--lamp \"fill panel\" has place = \"inside\""},
             {asked({"--like", "13:30", "--lamp", "yard lamp"}), 2, "known by its lumens alone"},
             {asked({"--like", "13:30", "--window", "none"}), 2, "--window \"none\" is not in the"},
             {asked({"--like", "13:30", "--mark", "none"}), 2, "--mark \"none\" is not in the"},
             {asked({"--like", "13:30", "--fill", "fill panel"}), 2, "a fill lamp needs --ratio"},
             {asked({"--like", "13:30", "--ratio", "4", "--convention", "both"}), 2,
              "accepted: key, for key to fill"},
             {asked({"--like", "13:30", "--ratio", "1", "--convention", "key-plus-fill"}), 2,
              "would be no key"},
             {asked({"--sun-key", "--ratio", "4"}), 2, "--sun-key needs --like"},
             {{"lamp", bare.path, "--like", "13:30", "--date", "2026-02-17"},
              1,
              "the location has no outside [[lamp]]"},
             {{"lamp", "nowhere.toml", "--like", "13:30"}, 1, "nowhere.toml"}}) {
        const Outcome o = run_program(wrong.words);
        CAPTURE(wrong.words, o.err);
        CHECK(o.code == wrong.code);
        CHECK(o.out.empty());
        CHECK(holds(o.err, wrong.says));
    }
}

TEST_CASE("a lamp that stands behind the window's wall, or is aimed away, is not from there",
          "[cli][lamp]") {
    const std::string text = changed(example_text("tallow-lane"), "stand_max_m = 3.6",
                                     "at = [3, 9]\nheight_m = 2\nstand_max_m = 3.6");
    const ScratchFile behind{scratch_name("behind").c_str(), text};
    const auto json =
        answer({"lamp", behind.path, "--date", "2026-02-17", "--window", "case window"});
    CHECK(json["reachable"] == false);
    CHECK(json["wanted"]["obstacles"][0] == "that is not before the window's wall");
    // A key angle that points into the room.
    const auto away = answer(asked({"--key-angle", "170", "--height", "2", "--window",
                                    "case window", "--light-from", "left"}));
    CHECK(away["reachable"] == false);
}

TEST_CASE("a yard lamp is told by check and by exterior", "[cli][lamp]") {
    const Outcome brief = run_program({"check", example("tallow-lane")});
    CHECK(tells(brief.out, "lamps: key lamp, outside; fill panel, inside; yard lamp, outside"));
    const Outcome check = run_program({"check", example("tallow-lane"), "--show", "levels"});
    CHECK(tells(check.out, "lamp key lamp, outside, by data sheet: 12 klx at 5 m on its axis"));
    CHECK(tells(check.out, "lamp yard lamp, outside, by lumens: "));
    const Outcome json = run_program({"check", example("tallow-lane"), "--json"});
    CHECK(schema_faults("check", json.out) == "");
    const auto lamps = nlohmann::json::parse(json.out)["lamps"];
    REQUIRE(lamps.size() == 3);
    CHECK(lamps[0]["axis_candela"].get<double>() == Approx(300000));
    CHECK(lamps[2]["lumens"].get<double>() == Approx(4200));

    const Outcome out =
        run_program({"exterior", example("tallow-lane"), "--date", "2026-10-10", "--json"});
    CHECK(schema_faults("exterior", out.out) == "");
    const auto here = nlohmann::json::parse(out.out)["spots"][0]["lamps"];
    REQUIRE(here["list"].size() == 1);
    // 4200 lm at 4.2 m, 3.77 m off along the ground: lm/pi cos^4 / h^2.
    const double g = std::atan2(std::hypot(3.5, 1.4), 4.2);
    CHECK(here["ground_lx"].get<double>() ==
          Approx(4200 / 3.14159265 * std::pow(std::cos(g), 4) / (4.2 * 4.2)).epsilon(1e-4));
    CHECK(here["sky_below_utc"].is_string());
    CHECK(tells(run_program({"exterior", example("tallow-lane"), "--date", "2026-10-10", "--show",
                             "levels"})
                    .out,
                "yard lamp at night, 3.8 m off and 4.2 m high: "));
}
