#pragma once
/// @file
/// What was seen of a wall's bearing, in words.

#include <string>

#include "keyhour/site/location.hpp"
#include "keyhour/site/units.hpp"
#include "keyhour/study/bearing.hpp"

namespace keyhour::tell {

/// "street wall"; a name that ends so already stays.
[[nodiscard]] std::string wall_name(const std::string& name);

/// "shadow 2, Tue 10 February 2026 12:20 (UTC+00:00): from ..., sun 182 true, 22 degrees high".
/// @param units  of lengths; JSON stays metric
[[nodiscard]] std::string in_words(const study::Observation& observation,
                                   const site::Location& location, const study::SunPath& path,
                                   site::Units units = site::Units::metres);

}  // namespace keyhour::tell
