#pragma once
/// @file
/// A text of the user's, as messages show it.

#include <cstddef>
#include <string>
#include <string_view>

namespace keyhour::site {

/// In double quotes; cut after `longest` bytes, not inside a UTF-8 letter; made safe for a terminal
/// as words::shown has it.
[[nodiscard]] std::string quoted(std::string_view text, std::size_t longest = 40);

}  // namespace keyhour::site
