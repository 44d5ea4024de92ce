#pragma once
/// @file
/// `check --recce` in words and cells: what to measure next, and the form in which to note it.

#include "keyhour/ask/recce.hpp"
#include "keyhour/site/units.hpp"
#include "tell/document.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

/// @param room  that of the answer's location
[[nodiscard]] Paragraphs recce_page(const ask::RecceAnswer& answer, const room::Room& room,
                                    site::Units units = site::Units::metres);
[[nodiscard]] Json json_of(const ask::RecceAnswer& answer, const room::Room& room);

}  // namespace keyhour::tell
