#pragma once
/// @file
/// The whole program as a function, so that tests reach it without a process.

#include <iosfwd>

namespace keyhour::cli {

/// What a shell sees.
enum ExitCode : int {
    answered = 0,      ///< also "there is none on this day"
    bad_data = 1,      ///< the question has no answer because of what a file or input says
    wrong_usage = 2,   ///< options or commands that are not known, missing or malformed
    partly_failed = 3  ///< some inputs of many failed; the rest are answered
};

/// @return an ExitCode; never throws. The caller flushes `out` and looks after write errors.
[[nodiscard]] int run(int argc, const char* const* argv, std::istream& in, std::ostream& out,
                      std::ostream& err);

}  // namespace keyhour::cli
