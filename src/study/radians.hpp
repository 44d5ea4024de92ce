#pragma once
/// @file
/// Angles as the searches over directions count them.

#include <numbers>

namespace keyhour::study {

inline constexpr double pi = std::numbers::pi;
inline constexpr double degree = pi / 180;

}  // namespace keyhour::study
