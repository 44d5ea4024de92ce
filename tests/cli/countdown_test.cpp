#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

#include "keyhour/site/dates.hpp"
#include "page.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"
#include "scratch_file.hpp"

namespace {

using nlohmann::json;
using Words = std::vector<std::string>;

const std::string mill = KEYHOUR_LOCATIONS "/mill-green/mill-green.toml";

Outcome exterior(Words more) {
    more.insert(more.begin(), {"exterior", mill, "--date", "2026-05-14"});
    return run_program(more);
}

json document(Words more) {
    more.push_back("--json");
    const Outcome o = exterior(std::move(more));
    CAPTURE(o.err);
    REQUIRE(o.code == 0);
    REQUIRE(schema_faults("exterior", o.out) == "");
    return json::parse(o.out)["countdown"];
}

double minutes(const json& from, const json& to) {
    return (*keyhour::site::read_utc(to.get<std::string>()) -
            *keyhour::site::read_utc(from.get<std::string>()))
               .count() /
           60;
}

}  // namespace

TEST_CASE("exterior tells which shots still fit from a time on", "[cli][countdown]") {
    const Outcome o = exterior({"--from-time", "12:30"});
    CHECK(o.code == 0);
    CHECK(too_long(o.out) == Words{});
    CHECK(holds(o.out,
                "from 12:30 on 2 of 2 shots fit, one crew, ways between not counted\n"
                "  12:30 pump: done 13:00; "));
    CHECK(holds(o.out, "  15:34 loading steps: done 16:05; "));
    const Outcome late = exterior({"--from-time", "13:00"});
    CHECK(holds(late.out, "from 13:00 on 1 of 2 shots fit"));
    CHECK(holds(late.out, "  NOT pump: to be begun by 12:58\n"));
    const json left = document({"--from-time", "12:30"});
    REQUIRE(left["shots"].size() == 2);
    for (const json& shot : left["shots"]) {
        CHECK(shot["fits_alone"] == true);
        CHECK(minutes(shot["set_up_utc"], shot["roll_utc"]) == Approx(20));
        CHECK(minutes(shot["roll_utc"], shot["done_utc"]) == Approx(10));
        CHECK(minutes(shot["latest_start_utc"], shot["light_to_utc"]) == Approx(30));
    }
    CHECK(document({"--from-time", "13:00"})["shots"][0]["set_up_utc"].is_null());
    // Longer shots: each alone, not both.
    const Outcome both = exterior({"--from-time", "10:30", "--setup", "10", "--shot", "150"});
    CHECK(holds(both.out, "2 of 2 shots fit"));
}

TEST_CASE("exterior counts down to the light's end, with the stop of the camera given",
          "[cli][countdown]") {
    const Outcome o = exterior(
        {"--spot", "loading steps", "--show", "countdown", "--iso", "800", "--stop", "T8"});
    CHECK(o.code == 0);
    CHECK(too_long(o.out) == Words{});
    CHECK(holds(o.out, "countdown to 19:43, set up by 19:13: time, left, light, level, stop\n"));
    CHECK(holds(o.out, "\n19:10  33 min      sun  "));
    CHECK(holds(o.out, " stops over\n"));
    CHECK_FALSE(holds(exterior({"--show", "countdown"}).out, " T"));
    const json left = document({"--spot", "loading steps", "--show", "countdown", "--iso", "800"});
    CHECK(left["from_utc"].is_null());
    for (const json& s : left["shots"][0]["steps"]) {
        // ISO 2720: N2 / t = E S / C, at 1/50 s; EV at ISO 100: log2 (E 100 / C).
        const double lx = s["level_lx"];
        CHECK(s["t_number"].get<double>() == Approx(std::sqrt(lx * 800 / 250 / 50)).epsilon(1e-4));
        CHECK(s["ev_iso_100"].get<double>() == Approx(std::log2(lx * 100 / 250)).margin(1e-3));
    }
    CHECK_FALSE(json::parse(exterior({"--json"}).out).contains("countdown"));
}

TEST_CASE("exterior refuses a time that is none, or that the clocks skip", "[cli][countdown]") {
    CHECK(exterior({"--from-time", "25:00"}).code == 2);
    const Outcome o =
        run_program({"exterior", mill, "--date", "2026-03-29", "--from-time", "01:30"});
    CHECK(o.code == 2);
    CHECK(holds(o.err, "--from-time"));
}
