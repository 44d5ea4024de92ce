#pragma once
/// @file
/// The nearest known word to one that was mistyped.

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace keyhour::site {

/// How many letters must be put in, left out, changed or exchanged with their neighbour to turn
/// one word into the other; capitals do not count.
[[nodiscard]] std::size_t edit_distance(std::string_view a, std::string_view b);

/// The known word closest to `word`, if one is close enough to be meant (a third of its letters,
/// two at least).
[[nodiscard]] std::optional<std::string> nearest(std::string_view word,
                                                 std::span<const std::string> known);

}  // namespace keyhour::site
