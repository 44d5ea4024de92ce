#pragma once
// Another program, run to its end without input or output.

#include <chrono>
#include <string>
#include <vector>

namespace keyhour::cli {

/// The program's path, from PATH; empty if it is not there.
[[nodiscard]] std::string on_path(const char* program);

enum class Ending { succeeded, failed, too_long, interrupted };

/// Runs a program in a process group of its own. It and what it started are killed when it takes
/// too long, and when this program is told to stop meanwhile (held_stop.hpp).
/// @param words  its path, then its arguments
[[nodiscard]] Ending run_to_end(const std::vector<std::string>& words,
                                std::chrono::seconds longest);

}  // namespace keyhour::cli
