#pragma once
/// @file
/// How exactly documents tell instants.

#include <string>

#include "keyhour/site/dates.hpp"

namespace keyhour::tell {

inline constexpr int fraction_digits = 3;  // of a second

[[nodiscard]] inline std::string utc(Instant t) {
    return site::iso_utc(t, fraction_digits);
}

}  // namespace keyhour::tell
