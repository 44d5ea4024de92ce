#pragma once
// A topic of the manual on a terminal, from 40 columns on.

#include <iosfwd>

#include "tell/manual.hpp"

namespace keyhour::cli {

void print(const tell::Topic& topic, std::ostream& out);

/// Two columns; on a narrow terminal the second stands below the first, indented.
/// @param rows    of two cells, marked as the manual's sources are
/// @param indent  columns before the first
void print_pairs(const std::vector<std::vector<std::string>>& rows, std::size_t indent,
                 std::ostream& out);

}  // namespace keyhour::cli
