// The figures of the light: key's exposure, cloud, covers and haze, the levels of patch and day.

#include <unistd.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

#include "page.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"
#include "scratch_file.hpp"

namespace {

using Arguments = std::vector<std::string>;

const std::string press = example("tallow-lane");
const Arguments february{"--date", "2026-02-17"};

Outcome run(const char* command, const std::string& file, const Arguments& when,
            const Arguments& more = {}) {
    Arguments all{command, file};
    all.insert(all.end(), when.begin(), when.end());
    all.insert(all.end(), more.begin(), more.end());
    return run_program(all);
}

nlohmann::json json(const char* command, const std::string& file, const Arguments& when,
                    Arguments more = {}) {
    more.emplace_back("--json");
    const Outcome o = run(command, file, when, more);
    INFO(o.err);
    REQUIRE(o.code == 0);
    REQUIRE(schema_faults(command, o.out) == "");
    return nlohmann::json::parse(o.out);
}

/// However the text is broken into lines.
bool says(const std::string& text, const std::string& part) {
    std::string flat;
    for (const char c : text) {
        const bool blank = c == ' ' || c == '\n';
        if (!blank || flat.empty() || flat.back() != ' ') flat += blank ? ' ' : c;
    }
    return flat.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("key keeps the holds that are bright enough for a stop", "[cli][light]") {
    const auto all = json("key", press, february);
    REQUIRE(all["intervals"].size() == 1);
    CHECK_FALSE(all.contains("camera_setting"));
    CHECK_FALSE(all["intervals"][0]["meter"].contains("t_number"));

    const auto kept = json("key", press, february, {"--stop", "T4", "--iso", "800"});
    CHECK(kept["intervals"].size() == 1);
    CHECK(kept["too_dark"].empty());
    // ISO 2720, C = 250: 16 x 250 / (800 x 1/50) lx.
    CHECK(kept["camera_setting"]["wanted"]["level_lx"] == Approx(250));
    const auto& meter = kept["intervals"][0]["meter"];
    for (const char* end : {"at_start", "at_end"}) {
        const double lx = meter["incident_lx"][end];
        CHECK(meter["nd_stops"][end].get<double>() == Approx(std::log2(lx / 250)).margin(0.006));
        CHECK(meter["nd_density"][end].get<double>() == Approx(std::log10(lx / 250)).margin(0.006));
        CHECK(meter["ev_iso_100"][end].get<double>() ==
              Approx(std::log2(100 * lx / 250)).margin(0.006));
        CHECK(meter["t_number"][end].get<double>() ==
              Approx(std::sqrt(lx / 50 * 800 / 250)).margin(0.006));
    }
    CHECK(meter["nd_stops"]["low"] < meter["nd_stops"]["at_end"]);

    // T22 at ISO 12 wants half a million lx: no sun gives that.
    const auto dark = json("key", press, february, {"--stop", "T22", "--iso", "12"});
    CHECK(dark["intervals"].empty());
    REQUIRE(dark["too_dark"].size() == 1);
    const double wanted = dark["camera_setting"]["wanted"]["level_lx"];
    const double least = std::min(meter["incident_lx"]["at_start"].get<double>(),
                                  meter["incident_lx"]["at_end"].get<double>());
    CHECK(dark["too_dark"][0]["missing_stops"].get<double>() ==
          Approx(std::log2(wanted / least)).margin(0.006));
    // So far under it may lie, if one says so.
    CHECK(json("key", press, february,
               {"--stop", "T22", "--iso", "12", "--tolerance", "10"})["intervals"]
              .size() == 1);
}

TEST_CASE("key tells the stop without one that is wanted, in thirds", "[cli][light]") {
    const auto j = json("key", press, february, {"--iso", "100", "--fps", "50"});
    const auto& meter = j["intervals"][0]["meter"];
    CHECK(j["camera_setting"]["wanted"].is_null());
    CHECK(j["camera_setting"]["exposure_s"] == Approx(0.01));
    CHECK_FALSE(meter.contains("nd_stops"));
    CHECK(meter["t_stop"]["at_start"].get<std::string>()[0] == 'T');
    const std::string table = run("key", press, february, {"--iso", "100", "--fps", "50"}).out;
    CHECK(says(table, "camera: ISO 100, 50 frames a second, shutter 180 degrees (1/100 s)"));
    CHECK(says(table, meter["t_stop"]["at_start"].get<std::string>()));
    // A dome's constant reads less than a flat receptor's: 250/330 is 0.4 stop.
    const auto dome = json("key", press, february, {"--meter-constant", "330"});
    CHECK(dome["intervals"][0]["meter"]["ev_iso_100"]["at_start"].get<double>() ==
          Approx(meter["ev_iso_100"]["at_start"].get<double>() - std::log2(330. / 250))
              .margin(0.011));
}

TEST_CASE("a stop, a camera or a meter that cannot be is told with what can", "[cli][light]") {
    struct Bad {
        Arguments options;
        const char* message;
    };
    for (const Bad& bad :
         {Bad{{"--iso", "0"}, "--iso 0: accepted: above 0, at most 1000000"},
          Bad{{"--iso", "-100"}, "--iso -100: accepted: above 0, at most 1000000"},
          Bad{{"--iso", "nan"}, "--iso: \"nan\" is not a number; accepted: a number"},
          Bad{{"--fps", "-1"}, "--fps -1: accepted: above 0, at most 10000 frames a second"},
          Bad{{"--fps", "0"}, "--fps 0: accepted: above 0, at most 10000 frames a second"},
          Bad{{"--shutter", "400"}, "--shutter 400: accepted: above 0, at most 360 degrees"},
          Bad{{"--shutter", "0"}, "--shutter 0: accepted: above 0, at most 360 degrees"},
          Bad{{"--stop", "T0"}, "--stop \"T0\": accepted: T0.5 to T64, as T4 or \"T2.8 1/3\""},
          Bad{{"--stop", "f4"}, "--stop \"f4\": accepted: T0.5 to T64, as T4 or \"T2.8 1/3\""},
          Bad{{"--stop", "T4 1/2"},
              "--stop \"T4 1/2\": accepted: T0.5 to T64, as T4 or \"T2.8 1/3\""},
          Bad{{"--stop", "T1e300"},
              "--stop \"T1e300\": accepted: T0.5 to T64, as T4 or \"T2.8 1/3\""},
          Bad{{"--tolerance", "1"}, "--tolerance goes with --stop"},
          Bad{{"--stop", "T4", "--tolerance", "-1"}, "--tolerance -1: accepted: 0 to 10 stops"},
          Bad{{"--meter-constant", "12.5"},
              "--meter-constant 12.5: accepted: 240 to 540 lx s (flat receptors 240 to 400, domes "
              "320 to 540)"},
          Bad{{"--no-light", "--iso", "800"},
              "--no-light leaves out what the options of camera and meter ask for: give one or the "
              "other"},
          Bad{{"--by", "lamp", "--stop", "T4"},
              "the exposure of the key (--stop, --iso) is about the sun: leave out --by lamp"}}) {
        const Outcome o = run("key", press, february, bad.options);
        CAPTURE(bad.options);
        CHECK(o.code == 2);
        CHECK(o.out == "");
        CHECK(says(o.err, bad.message));
    }
}

TEST_CASE("key's light holds together", "[cli][light]") {
    const auto document = json("key", press, february);
    const auto& k = document["intervals"][0];
    for (const char* end : {"at_start", "at_end"}) {
        const double key = k["level_lx"][end], fill = k["fill_lx"][end];
        CHECK(k["key_to_fill_stops"][end].get<double>() ==
              Approx(std::log2(key / fill)).margin(0.006));
        CHECK(k["key_to_fill_ratio"][end].get<double>() == Approx(key / fill).epsilon(1e-3));
        CHECK(k["key_plus_fill_to_fill_ratio"][end].get<double>() ==
              Approx(key / fill + 1).epsilon(1e-3));
        CHECK(k["meter"]["incident_lx"][end].get<double>() == Approx(key + fill).margin(0.11));
        // The mixture's colour lies between its parts'.
        const double key_k = k["key_kelvin"][end], fill_k = k["fill_kelvin"][end];
        CHECK(k["mix_kelvin"][end] >= std::min(key_k, fill_k) - 1);
        CHECK(k["mix_kelvin"][end] <= std::max(key_k, fill_k) + 1);
        CHECK(k["mean_cloud"]["level_lx"][end] < key);
        CHECK(k["overcast"]["level_lx"][end] < k["mean_cloud"]["level_lx"][end]);
        CHECK(k["with_sheer"]["level_lx"][end] < key);
        CHECK(k["with_sheer"]["key_to_fill_stops"][end] < k["key_to_fill_stops"][end]);
        CHECK(k["with_blackout"]["fill_lx"][end] < fill);
        const auto& patch = k["patch_over_unlit_wall"][end];
        CHECK(patch["stops"].get<double>() ==
              Approx(std::log2(patch["patch_cd_m2"].get<double>() /
                               patch["unlit_wall_cd_m2"].get<double>()))
                  .margin(0.02));
    }
    CHECK(k["light_drift"]["key_stops"].get<double>() ==
          Approx(std::log2(k["level_lx"]["at_end"].get<double>() /
                           k["level_lx"]["at_start"].get<double>()))
              .margin(0.006));
    CHECK(k["haze"].size() == 1);
    CHECK(k["haze"][0]["camera"] == "A");
    CHECK_FALSE(k["haze"][0]["sun_in_lens"].get<bool>());  // no key is clean with it
    const std::string table = run("key", press, february, {"--show", "all"}).out;
    for (const char* line :
         {"over the hold: key ", "meter: EV ", "stops over an unlit wall", "under mean cloud ",
          "in haze, camera A: beam ", "agree the smoke alarms"})
        CHECK(says(table, line));
    CHECK(too_long(table) == Arguments{});
    const std::string without = run("key", press, february, {"--no-light", "--show", "all"}).out;
    for (const char* line : {"over the hold", "meter:", "haze", "lx"})
        CHECK_FALSE(says(without, line));
}

TEST_CASE("the rows of a range tell the stop or its density", "[cli][light]") {
    const Arguments week{"--from", "2026-02-10", "--to", "2026-02-17"};
    const std::string nd = run("key", press, week, {"--stop", "T4"}).out;
    CHECK(says(nd, "; ND "));
    CHECK(too_long(nd) == Arguments{});
    CHECK(says(run("key", press, week, {"--iso", "100"}).out, "; T"));
    CHECK_FALSE(says(run("key", press, week).out, "klx"));
    CHECK(says(run("key", press, week, {"--stop", "T22", "--iso", "12"}).out,
               "left out as too dark for T22: 8 holds; the nearest is "));
}

TEST_CASE("patch tells the light of patches, marks and beams", "[cli][light]") {
    const Arguments at{"--date", "2026-02-17", "--time", "13:30"};
    const auto document = json("patch", press, at);
    const auto& now = document["instants"][0];
    REQUIRE(!now["patches"].empty());
    for (const auto& patch : now["patches"])
        CHECK(patch["over_unlit_wall_stops"] > 0);
    const auto& light = now["marks"][0]["light"];
    CHECK(light["key_window"] == "case window");
    CHECK(light["key_lx"]["low"] < light["key_lx"]["likely"]);
    double sheer = 0, key = 0;
    for (const auto& w : light["windows"]) {
        if (w["cover"] == "sheer") {
            CHECK(w["direct_lx"] == 0);
            sheer += w["cloth_lx"].get<double>();
        }
        if (w["window"] == light["key_window"])
            key = w["direct_lx"].get<double>() + w["sky_lx"].get<double>() +
                  w["ground_lx"].get<double>();
    }
    CHECK(sheer > 0);
    CHECK(key == Approx(light["key_lx"]["likely"].get<double>()).margin(0.2));
    CHECK(light["overcast_key_lx"]["likely"] < light["mean_cloud_key_lx"]["likely"]);
    CHECK(!now["haze"].empty());

    const std::string table = run("patch", press, at, {"--show", "levels,haze"}).out;
    for (const char* line : {"stops over an unlit wall", "mark type case: ", "by its sheer ",
                             "with mean cloud ", "in haze, case window, A: beam ", "grow hot"})
        CHECK(says(table, line));
    CHECK(too_long(table) == Arguments{});

    const auto without = json("patch", press, at, {"--no-light"});
    CHECK_FALSE(without["instants"][0].contains("haze"));
    CHECK_FALSE(without["instants"][0]["marks"][0].contains("light"));
    CHECK_FALSE(without["instants"][0]["patches"][0].contains("level_lx"));
    CHECK_FALSE(says(run("patch", press, at, {"--no-light"}).out, "lx"));
}

TEST_CASE("patch tells the light of a room without a mark", "[cli][light]") {
    const ScratchFile file{
        ("keyhour-no-mark-" + std::to_string(getpid()) + ".toml").c_str(),
        without_tables(without_tables(example_text("tallow-lane"), "mark"), "camera")};
    const Outcome o = run("patch", file.path, february, {"--json"});
    INFO(o.err);
    REQUIRE(o.code == 0);
    CHECK(schema_faults("patch", o.out) == "");
    CHECK(says(o.out, "over_unlit_wall_stops\":"));
    CHECK_FALSE(says(o.out, "over_unlit_wall_stops\":null"));
}

TEST_CASE("day tells the light outside from dawn to dusk", "[cli][light]") {
    const auto document = json("day", press, february);
    const auto& light = document["light"];
    std::size_t events = 0;
    std::string before;
    for (const auto& l : light) {
        CHECK(before <= l["utc"].get<std::string>());
        before = l["utc"];
        events += !l["event"].is_null();
        CHECK(l["clear_lx"]["low"] <= l["clear_lx"]["likely"]);
        CHECK(l["clear_lx"]["likely"] <= l["clear_lx"]["high"]);
        CHECK(l["overcast_lx"] > 0);
        if (l["in_sun"]) {
            CHECK(l["mean_cloud_lx"] < l["clear_lx"]["likely"]);
            CHECK(l["overcast_lx"] < l["mean_cloud_lx"]);
        } else {
            CHECK(l["sun_normal_lx"]["high"] == 0);
            CHECK(l["sun_kelvin"].is_null());
        }
    }
    CHECK(events == document["events"].size());
    CHECK(light.size() > events + 9);
    const std::string table = run("day", press, february, {"--show", "levels"}).out;
    CHECK(says(table, "light on open level ground"));
    CHECK(too_long(table) == Arguments{});
    CHECK_FALSE(json("day", press, february, {"--no-light"}).contains("light"));
    CHECK_FALSE(says(run("day", press, february, {"--no-light"}).out, "lx"));
    CHECK_FALSE(says(run("day", press, {"--from", "2026-02-17", "--to", "2026-02-18"}).out, "lx"));
}
