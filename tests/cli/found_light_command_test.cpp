// What the recce found of light, in the answers: meter readings and a forge.

#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

#include "page.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"
#include "scratch_file.hpp"

namespace {

using Arguments = std::vector<std::string>;

const std::string hearth =
    "\n[[forge]]\nname = \"hearth\"\nat = [5, 4]\nheight_m = 0.9\ntoward = [2.3, 1.8]\n"
    "opening_width_m = 0.5\nopening_height_m = 0.3\nat_m = 2\n";
const std::string meter =
    "\n[[meter]]\nmark = \"type case\"\ntime = 2026-02-17T13:30:00\nsky = \"clear\"\n";

std::string told(const ScratchFile& file, const char* command, const Arguments& more) {
    Arguments all{command, file.path, "--date", "2026-02-17"};
    all.insert(all.end(), more.begin(), more.end());
    const Outcome o = run_program(all);
    INFO(o.err);
    REQUIRE(o.code == 0);
    std::string flat;
    for (const char c : o.out) {
        const bool blank = c == ' ' || c == '\n';
        if (!blank || flat.empty() || flat.back() != ' ') flat += blank ? ' ' : c;
    }
    return flat;
}

bool has(const std::string& text, const std::string& part) {
    UNSCOPED_INFO(text);
    return text.find(part) != std::string::npos;
}

nlohmann::json interval(const ScratchFile& file) {
    const Outcome o = run_program({"key", file.path, "--date", "2026-02-17", "--json"});
    REQUIRE(o.code == 0);
    CHECK(schema_faults("key", o.out) == "");
    return nlohmann::json::parse(o.out)["intervals"][0];
}

}  // namespace

TEST_CASE("a meter reading in the sun corrects the glass, and the answer says so",
          "[cli][light][meter]") {
    const ScratchFile plain{"keyhour-meter-none.toml", example_text("tallow-lane")};
    const ScratchFile read{"keyhour-meter.toml",
                           example_text("tallow-lane") + meter + "lux = 45000\n"};
    CHECK(has(told(read, "key", {}), "as the recce's meter corrects it"));
    const std::string full = told(read, "key", {"--show", "levels"});
    CHECK(has(full, "the recce's meter: glass passes 0."));
    CHECK(has(full, "13:30 at type case: 45 klx, 0.5 stops under"));
    const auto a = interval(plain), b = interval(read);
    CHECK_FALSE(a.contains("meter_correction"));
    const double glass = b["meter_correction"]["glass"];
    CHECK(glass < 1);
    CHECK(glass >= 0.6);
    CHECK(b["level_lx"]["at_start"].get<double>() ==
          Approx(glass * a["level_lx"]["at_start"].get<double>()).epsilon(0.001));
}

TEST_CASE("a reading that no air explains is loud and changes nothing", "[cli][light][meter]") {
    const ScratchFile plain{"keyhour-meter-none-odd.toml", example_text("tallow-lane")};
    const ScratchFile odd{"keyhour-meter-odd.toml",
                          example_text("tallow-lane") + meter + "ev = 1\n"};
    for (const char* command : {"key", "check"}) {
        const Outcome o = run_program({command, odd.path});
        CHECK(has(o.out, "PLEASE CHECK: THE METER DISAGREES WITH ANY AIR"));
    }
    CHECK(interval(odd)["level_lx"] == interval(plain)["level_lx"]);
}

TEST_CASE("a forge is fill, warms it, and is key where it is brighter", "[cli][light][forge]") {
    const ScratchFile plain{"keyhour-forge-none.toml", example_text("tallow-lane")};
    const ScratchFile lit{"keyhour-forge.toml",
                          example_text("tallow-lane") + hearth + "lux = 320\n"};
    const ScratchFile bright{"keyhour-forge-bright.toml",
                             example_text("tallow-lane") + hearth + "lux = 199000\n"};
    const auto a = interval(plain), b = interval(lit);
    const auto& forge = b["forges"][0];
    const double more = forge["level_lx"].get<double>() + forge["given_back_lx"].get<double>();
    CHECK(b["fill_lx"]["at_start"].get<double>() ==
          Approx(a["fill_lx"]["at_start"].get<double>() + more).margin(0.3));
    CHECK(b["fill_kelvin"]["at_start"] < a["fill_kelvin"]["at_start"]);
    CHECK(
        forge["stops_under_key"]["at_start"].get<double>() ==
        Approx(std::log2(b["level_lx"]["at_start"].get<double>() / forge["level_lx"].get<double>()))
            .margin(0.02));
    CHECK(has(told(lit, "key", {"--show", "levels"}), "forge hearth: 100 lx at the mark, 1500 K"));
    CHECK(has(told(bright, "key", {}), "forge hearth IS KEY"));
    const std::string lamp = told(lit, "lamp", {"--like", "13:30"});
    CHECK(has(lamp, "in a room lit by its forge alone"));
    CHECK(has(lamp, "forge hearth: 100 lx at the mark, 1500 K, 6 2/3 stops under the key"));
    const Outcome json =
        run_program({"lamp", lit.path, "--date", "2026-02-17", "--like", "13:30", "--json"});
    CHECK(schema_faults("lamp", json.out) == "");
}
