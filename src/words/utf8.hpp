#pragma once
/// @file
/// UTF-8 as RFC 3629 defines it: no overlong forms, no surrogates, nothing above U+10FFFF.

#include <cstddef>
#include <string_view>
#include <vector>

namespace keyhour::words {

/// Length in bytes of the valid character at the start of `text`; 0 if none is there.
[[nodiscard]] std::size_t utf8_length(std::string_view text) noexcept;

/// The characters of a text; bytes that are no UTF-8 come out singly.
[[nodiscard]] std::vector<std::string_view> utf8_characters(std::string_view text);

}  // namespace keyhour::words
