#pragma once
// Programs that a test looks at its files with; CI installs them all (.ci/packages-test).

#include <catch2/catch.hpp>
#include <cstdlib>
#include <string>

/// Is the program there? In CI it must be.
inline bool has_tool(const std::string& name) {
    const bool there = std::system(("command -v " + name + " > /dev/null 2>&1").c_str()) == 0;
    if (!there) WARN("skipped: " << name << " is not installed");
    if (!there && std::getenv("CI") != nullptr) FAIL(name << " is missing in CI");
    return there;
}

inline bool runs_well(const std::string& command) {
    return std::system(command.c_str()) == 0;
}
