#pragma once
/// @file
/// Lengths as a drawing writes them: metres without their unit, which the drawing's foot says once;
/// feet and inches with theirs.

#include <string>

#include "keyhour/site/units.hpp"

namespace keyhour::draw {

/// "0.85"; "2 ft 9 1/2 in".
[[nodiscard]] std::string figure(double metres, site::Units units);

/// Width by height: "1.40 x 1.60"; "4 ft 7 in x 5 ft 3 in".
[[nodiscard]] std::string size_figure(double width_m, double height_m, site::Units units);

/// How high or how far off a thing stands outside, which nobody tapes: "9.5 m"; whole feet, "31
/// ft".
/// @param decimals  of metres
[[nodiscard]] std::string outside_length(double metres, site::Units units, int decimals = 1);

/// "Metres"; "Feet and inches".
[[nodiscard]] const char* in_words(site::Units units);

}  // namespace keyhour::draw
