#pragma once
/// @file
/// The page of the light sheet: one date of one location as one HTML file that asks nobody for
/// anything. Without its script it shows the same, but for the slider.

#include <string>
#include <vector>

#include "sheet_content.hpp"

namespace keyhour::tell {

/// The same input gives the same bytes. All text from the location is escaped; a content security
/// policy lets nothing in but the page's own style and script, by their hashes.
[[nodiscard]] std::string sheet_page(const SheetContent& content);

/// The answer in one sentence: "Key at type case through case window, 13:00 to 14:20 (1 h 20 min),
/// sure 13:12 to 14:10."; of a lock a line more for each thing to set up, then the sun's key.
[[nodiscard]] std::vector<std::string> sheet_answer(const SheetContent& content);

}  // namespace keyhour::tell
