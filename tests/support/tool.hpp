#pragma once
// Programs that a test looks at its files with; CI installs them all (.ci/packages-test).

#include <catch2/catch.hpp>
#include <cstdlib>
#include <string>

inline bool runs_well(const std::string& command) {
    return std::system(command.c_str()) == 0;
}

/// What a test needs beside the program; where CI is set none may be missing.
inline bool is_there(bool there, const std::string& name) {
    if (!there) WARN("skipped: " << name << " is not installed");
    if (!there && std::getenv("CI") != nullptr) FAIL(name << " is missing in CI");
    return there;
}

inline bool has_tool(const std::string& name) {
    return is_there(runs_well("command -v " + name + " > /dev/null 2>&1"), name);
}

/// @param file  of the font
inline bool has_font(const std::string& file) {
    return is_there(runs_well("fc-list | grep -q " + file), file);
}
