#pragma once
// The foot of every drawing: what it is, of which place and date, and what its marks mean.

#include <functional>
#include <string>
#include <vector>

#include "svg.hpp"

namespace keyhour::draw {

/// One line of a key: a swatch drawn into a box of this size, and what it means.
struct KeyEntry {
    std::function<void(Svg&, double x, double y, double w, double h)> swatch;
    std::string meaning;
};

struct TitleBlock {
    std::string place, drawing;      ///< "Tallow Lane Press"; "plan, Tuesday 10 March 2026"
    std::vector<std::string> notes;  ///< wrapped where too long
    std::vector<KeyEntry> key;
    std::vector<std::string> numbered{};  ///< what the numbers in rings mean, from 1
};

/// Draws the block. @return its lower edge
double draw_title_block(Svg& svg, double top, const TitleBlock& block);

/// How certainty is shown, in strip and year chart alike: black is sure, hatched is what the stated
/// bearing gives, an outline what some bearing within its doubt gives.
struct CertaintyFills {
    Stroke sure, stated, possible;
};
[[nodiscard]] CertaintyFills certainty_fills();
[[nodiscard]] std::vector<KeyEntry> certainty_key(const CertaintyFills& fills, double within_deg);

}  // namespace keyhour::draw
