#pragma once
// The program without a process: arguments in; exit code, output and messages out.

#include <sstream>
#include <string>
#include <vector>

#include "cli/app.hpp"

struct Outcome {
    int code = -1;
    std::string out, err;
};

inline Outcome run_program(const std::vector<std::string>& arguments,
                           const std::string& input = {}) {
    std::vector<const char*> argv{"keyhour"};
    for (const std::string& argument : arguments)
        argv.push_back(argument.c_str());
    std::istringstream in{input};
    std::ostringstream out, err;
    Outcome outcome;
    outcome.code = keyhour::cli::run(static_cast<int>(argv.size()), argv.data(), in, out, err);
    outcome.out = out.str();
    outcome.err = err.str();
    return outcome;
}
