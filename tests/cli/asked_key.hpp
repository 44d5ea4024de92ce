#pragma once
// How tests ask `keyhour key`.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "run_program.hpp"
#include "schema_check.hpp"
#include "scratch_file.hpp"

namespace asked {

using Arguments = std::vector<std::string>;

inline Outcome key(Arguments arguments, const Arguments& more = {}) {
    arguments.insert(arguments.begin(), "key");
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run_program(arguments);
}

inline nlohmann::json key_json(const Arguments& arguments, Arguments more = {}) {
    more.emplace_back("--json");
    const Outcome o = key(arguments, more);
    INFO(o.err);
    REQUIRE(o.code == 0);
    REQUIRE(schema_faults("key", o.out) == "");
    return nlohmann::json::parse(o.out);
}

/// The worked room: 52 N 0 E, wall facing 225, window 1.20 x 1.50 m, sill 0.90, reveal 0.30, mark
/// 2.5 m in on the centre line, 1.2 m high.
inline Arguments worked_room(const char* faces = "225", const char* date = "2026-03-10",
                             const char* reveal = "0.3") {
    return {"--position", "52N 0E", "--zone",    "Europe/London", "--faces",         faces,
            "--north",    "true",   "--opening", "1.2 x 1.5 m",   "--sill",          "0.9",
            "--reveal",   reveal,   "--room",    "6 x 6 m",       "--mark-distance", "2.5",
            "--date",     date};
}

inline const std::string press = example("tallow-lane"), hatters = example("flax-road");

}  // namespace asked
