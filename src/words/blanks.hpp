#pragma once
/// @file
/// What is typed has blanks around it.

#include <string_view>

namespace keyhour::words {

/// Without the blanks before and behind it.
[[nodiscard]] constexpr std::string_view stripped(std::string_view text,
                                                  std::string_view blanks = " \t\r\n") noexcept {
    const std::size_t first = text.find_first_not_of(blanks);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(blanks) + 1 - first);
}

}  // namespace keyhour::words
