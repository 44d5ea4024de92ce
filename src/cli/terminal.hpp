#pragma once
/// @file
/// How wide the lines of text for people may be.

#include <cstddef>
#include <iosfwd>

namespace keyhour::cli {

inline constexpr std::size_t narrowest_line = 40, widest_line = 80;

/// The columns that a line on `out` may take: 80 unless set otherwise.
[[nodiscard]] std::size_t line_columns(std::ostream& out);
/// @param columns  brought to 40..80
void set_line_columns(std::ostream& out, std::size_t columns);

/// Of what is written to `handle`: the environment's COLUMNS (POSIX), else the terminal's; 80 where
/// neither says.
[[nodiscard]] std::size_t terminal_columns(int handle);

}  // namespace keyhour::cli
