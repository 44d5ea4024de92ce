#pragma once
// "What if": an answer, and the same with values of the file or options changed, side by side.

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "command.hpp"
#include "tell/man_page.hpp"

namespace keyhour::cli {

using Arguments = std::vector<std::string>;

/// Answers one command line without the program's name, as a run of its own.
using RunCommand = std::function<int(const Arguments&, Session&)>;

/// The changes of `--if`. Each names a value of the file, which the command itself changes, or an
/// option of the command in its place ("key-angle=20,80"); with several values between bars
/// ("a|b") there is an answer for each.
/// @param arguments  without the program's name
/// @param commands   with their options
/// @return the exit code; nothing where the arguments ask for one answer about the file alone,
///         which the command gives without help
[[nodiscard]] std::optional<int> answer_what_if(const Arguments& arguments,
                                                const std::vector<tell::CommandText>& commands,
                                                const RunCommand& run, Session& session);

}  // namespace keyhour::cli
