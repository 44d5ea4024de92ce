#pragma once
/// @file
/// Lengths of time that several searches take.

#include "keyhour/sun/instant.hpp"

namespace keyhour::study {

inline constexpr Seconds one_day{86400};
/// So far to either side of a change its edge is asked for.
inline constexpr Seconds beside_change{1};

}  // namespace keyhour::study
