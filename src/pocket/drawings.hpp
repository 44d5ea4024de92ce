#pragma once
// The light sheet's drawings of a date, with the numbers by which a page lays a finger on them.

#include <string>
#include <utility>
#include <vector>

#include "request.hpp"

namespace keyhour::pocket {

struct Drawings {
    std::vector<std::pair<std::string, std::string>> svg;  ///< by their names: "plan", "year-case"
    Json document;  ///< of plan and strip: size, scale and origin
};

/// Options: `only` (plan, strip, section, year; without it plan and strip), `hours` or `time` of
/// the plan's patches, `width` in millimetres, `window` and `mark` of sections and years.
/// @pre the location's text is held (file/held_files.hpp)
[[nodiscard]] Reply<Drawings> draw(const Request& request);

/// The light sheet's papers: `only` page, calendar, spreadsheet, map; the options of `sheet`.
[[nodiscard]] Reply<std::vector<std::pair<std::string, std::string>>> papers(
    const Request& request);

}  // namespace keyhour::pocket
