#pragma once
/// @file
/// Bearings in the words of the sixteen-point compass.

#include "keyhour/sun/angle.hpp"

namespace keyhour::site {

/// "south-south-west": the nearest of sixteen points.
[[nodiscard]] const char* compass_words(Azimuth bearing) noexcept;

/// "SSW".
[[nodiscard]] const char* compass_letters(Azimuth bearing) noexcept;

}  // namespace keyhour::site
