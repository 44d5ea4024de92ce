#pragma once
/// @file
/// Tables and notes of the light sheet's page. What is text is escaped here; cells are HTML.

#include <string>
#include <vector>

namespace keyhour::tell {

using Rows = std::vector<std::string>;

/// Nothing without rows.
[[nodiscard]] std::string table(const Rows& head, const std::string& rows);
/// @param cells  HTML; the first names the row
[[nodiscard]] std::string row(const Rows& cells);
/// A smaller line under a cell's first.
[[nodiscard]] std::string below(const std::string& text);
/// A name that may be broken anywhere, so that a long one pushes nothing aside.
[[nodiscard]] std::string name_cell(const std::string& text);
/// Times that stay on one line.
[[nodiscard]] std::string times(const std::string& text);
/// A paragraph of small print.
[[nodiscard]] std::string note(const std::string& text);

}  // namespace keyhour::tell
