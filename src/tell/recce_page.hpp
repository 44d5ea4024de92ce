#pragma once
/// @file
/// `check --recce` in words and cells: what to measure next, and the form in which to note it.

#include "keyhour/ask/recce.hpp"
#include "tell/document.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

/// @param room  that of the answer's location
[[nodiscard]] Paragraphs recce_page(const ask::RecceAnswer& answer, const room::Room& room);
[[nodiscard]] Json json_of(const ask::RecceAnswer& answer, const room::Room& room);

}  // namespace keyhour::tell
