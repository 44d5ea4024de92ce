#pragma once
/// @file
/// What a complaint about an unknown word offers instead.

#include <string>
#include <string_view>
#include <vector>

namespace keyhour::read {

/// `did you mean "X"?`, or `accepted: "a", "b" or "c"` when nothing is near.
[[nodiscard]] std::string suggestion(std::string_view word, const std::vector<std::string>& known);

/// "a", "b" or "c": each in quotes.
[[nodiscard]] std::string quoted_list(const std::vector<std::string>& words);

}  // namespace keyhour::read
