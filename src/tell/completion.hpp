#pragma once
/// @file
/// What a shell needs to complete the program's commands and options, of the same texts as the
/// help and the manual's pages.

#include <string>
#include <vector>

#include "man_page.hpp"

namespace keyhour::tell {

enum class Shell { bash, zsh, fish };

/// A script that the shell reads: after "keyhour" a command, after a command its options, after an
/// option whose value is a file (or that takes none) the shell's own file names; "help" is followed
/// by topics and commands.
/// @param topics  names of the manual's topics
[[nodiscard]] std::string completion(Shell shell, const std::vector<CommandText>& commands,
                                     const std::vector<std::string>& topics);

}  // namespace keyhour::tell
