#pragma once
// What is wrong with a location's text, each beside the field that it is about.

#include <string>
#include <string_view>
#include <vector>

#include "problem.hpp"
#include "read/problem.hpp"

namespace keyhour::pocket {

/// "window.press window.sill_m": the table, its name where it is one of a list, and the key that
/// stand at a line of the text. Empty where none does.
[[nodiscard]] std::string field_at(std::string_view toml, int line);

/// @param name  of the location's file; a problem of a file that it names is told at that name
[[nodiscard]] Problems problems_of(const std::vector<read::Problem>& found, const std::string& name,
                                   std::string_view toml);

}  // namespace keyhour::pocket
