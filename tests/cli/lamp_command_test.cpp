#include <unistd.h>

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
         {Words{"--like", "13:30"}, Words{"--like", "13:30", "--at", "17:00"},
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
        CHECK(holds(o.out, "Local codes and licensed\npractice decide.\n"));
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
    CHECK(holds(run_program(words).out, "NOT FROM THERE: the stand goes to 2.4 m"));
    // The higher stand of the example matches that sun: same direction, 3.6 m high.
    const auto high = answer(asked({"--like", "13:30"}));
    CHECK(high["reachable"] == true);
    CHECK(high["nearest"].is_null());
    CHECK(high["light"]["tilt_deg"].get<double>() ==
          Approx(-high["sun"]["apparent_altitude_deg"].get<double>()));
    CHECK(high["wanted"]["height_above_ground_m"].get<double>() == Approx(3.6));
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
    const Outcome check = run_program({"check", example("tallow-lane")});
    CHECK(
        holds(check.out, "\nlamps\n  key lamp, outside, by data sheet: 12 klx at 5 m on its axis"));
    CHECK(holds(check.out, "yard lamp, outside, by lumens: "));
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
    CHECK(holds(run_program({"exterior", example("tallow-lane"), "--date", "2026-10-10"}).out,
                "yard lamp at night, 3.8 m off and 4.2 m high: "));
}
