#pragma once
/// @file
/// `check` in words: is the file sound, what must be settled, what does it describe?

#include <string>
#include <vector>

#include "keyhour/site/location.hpp"
#include "keyhour/site/recce.hpp"
#include "keyhour/study/window_hours.hpp"
#include "tell/detail.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

/// What was found.
struct CheckAnswer {
    const site::Location& location;  ///< with the questions that the year's sun raised
    site::Recce recce;
    date::year year{};                           ///< of the sun-hours
    const std::vector<study::WindowHours>& sun;  ///< one a window; empty without a room
    /// What was understood of place, clocks and walls; told on request.
    const std::vector<std::string>& read_back;
    Details show;
};

/// Loud lines, place, verdict.
[[nodiscard]] Paragraphs check_head(const CheckAnswer& answer);

/// What the file describes, a line a thing; all of it on request.
[[nodiscard]] Paragraphs check_page(const CheckAnswer& answer);

/// How far each figure may be off; `*` marks the usual ones.
[[nodiscard]] Paragraphs check_doubts(const site::Location& location, site::Units units);

}  // namespace keyhour::tell
