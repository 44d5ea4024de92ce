#pragma once
/// @file
/// How much room characters take on a terminal: letters of East Asia two columns, accents none.

#include <cstddef>
#include <string_view>
#include <vector>

namespace keyhour::words {

/// A character and what is written over it.
struct Glyph {
    std::string_view bytes;   // of UTF-8
    std::size_t columns = 1;  // 0 only for an accent that stands first
};

/// The glyphs of a text, in its order. Bytes that are no UTF-8 take a column each.
[[nodiscard]] std::vector<Glyph> glyphs(std::string_view text);

/// How many columns the text takes.
[[nodiscard]] std::size_t columns(std::string_view text);

/// The longest beginning that takes no more than so many columns.
[[nodiscard]] std::string_view first_columns(std::string_view text, std::size_t columns);

}  // namespace keyhour::words
