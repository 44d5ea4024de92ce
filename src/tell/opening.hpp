#pragma once
/// @file
/// How every answer about a place opens: what is wrong or has changed since the recce, where, and
/// on which date by which clock.

#include "keyhour/site/location.hpp"
#include "keyhour/site/recce.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

/// The dates of a question.
struct Dates {
    site::LocalDate first, last;  ///< inclusive
    bool is_range = false;
    bool is_today = false;  ///< none was asked for
};

/// What must be seen before anything else; nothing where all is well. Each is one sentence.
[[nodiscard]] std::vector<std::string> loud_lines(const site::Location& location,
                                                  const site::Recce& recce, const Dates& dates);

/// "Tallow Lane Press, 52.95 NORTH 1.15 WEST".
[[nodiscard]] std::string place_line(const site::Site& site);

/// The loud lines, then the place with its hemispheres, then the dates with their offsets.
[[nodiscard]] Paragraphs opening(const site::Location& location, const site::Recce& recce,
                                 const Dates& dates);

/// "street wall faces SSW, 196 true, give or take 3": of the wall by its index.
[[nodiscard]] std::string wall_in_brief(const room::Room& room, std::size_t wall);

/// "BEARING NOT MEASURED: ...": of a room whose bearing has the usual doubt, where a sure answer
/// needs one that was measured.
[[nodiscard]] std::string bearing_needed(const room::Room& room);

/// "DOES THE BEARING LOOK IN INSTEAD OF OUT? ...": of a room that no sun reaches all year.
[[nodiscard]] std::string looks_reversed(const room::Room& room);

}  // namespace keyhour::tell
