#pragma once
/// @file
/// What every drawing of the light sheet has in common.
///
/// Drawings are SVG 1.1 without scripts, style sheets and references to anything outside, black on
/// white, text as text, with title and desc. One user unit is a millimetre on paper, so lines and
/// letters keep their size whatever the drawing's width. The same input gives the same bytes.

#include <string>

#include "keyhour/room/plan.hpp"
#include "keyhour/site/units.hpp"

namespace keyhour::draw {

/// Between the margins of a sheet of A4 or Letter, upright.
inline constexpr double paper_width_mm = 180;
/// A phone's column of 360 CSS pixels, less its margins.
inline constexpr double phone_width_mm = 92;
/// The same column with letters of 16 CSS pixels: small ones have 3.2 mm, so a millimetre has 5.
inline constexpr double large_letters_width_mm = 66;

/// Where a drawing is to stand.
struct DrawingFrame {
    /// large_letters_width_mm or more; a section's: phone_width_mm or more
    double width_mm = paper_width_mm;
    /// Before every id, so that several drawings may stand in one page: a letter, then letters,
    /// digits and hyphens.
    std::string id_prefix = "drawing";
    /// An element of an HTML page: no XML declaration, and no fixed size (it fills what it stands
    /// in). Else a file of its own.
    bool in_page = false;
    site::Units units = site::Units::metres;  ///< in which it gives lengths
};

/// How plan metres lie on a drawing: x = left_mm + mm_per_m * plan x, y = top_mm - mm_per_m * plan
/// y, in its user units.
struct PlanScale {
    double mm_per_m = 10, left_mm = 0, top_mm = 0;
    [[nodiscard]] room::Point2 to_drawing(room::Point2 p) const {
        return {left_mm + mm_per_m * p.x, top_mm - mm_per_m * p.y};
    }
};

/// "press-window": letters and digits of ASCII kept, the rest as hyphens; for the names of files.
/// "unnamed" if nothing is left.
[[nodiscard]] std::string file_word(const std::string& name);

}  // namespace keyhour::draw
