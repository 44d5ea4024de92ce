#pragma once
/// @file
/// CSV as RFC 4180 has it, written.

#include <string>
#include <string_view>

namespace keyhour::tell {

/// A cell of text that a spreadsheet shows and never runs: one that begins with = + - @ gets an
/// apostrophe before it, the sign that spreadsheets take for text, and control characters are
/// escaped (words::escaped). For text only: a number keeps its minus.
[[nodiscard]] std::string csv_text(std::string_view text);

/// The field as it must stand in a record: quoted if it holds a comma, a quote or a line end.
[[nodiscard]] std::string csv_field(std::string_view text);

}  // namespace keyhour::tell
