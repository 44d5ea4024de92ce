#pragma once
/// @file
/// How much air the sun's light comes through.

#include "keyhour/sun/angle.hpp"

namespace keyhour::light {

/// Relative optical air mass: 1 with the sun overhead.
/// @param apparent  of the sun, 0..90 degrees; below the horizon the horizon's value is returned
/// @return          0.9997 at 90 degrees, 37.9 at the horizon; the formula follows its authors'
/// table
///                  within 0.5 %
/// No error: every altitude has an answer.
/// Source: Kasten & Young, Applied Optics 28 (1989) 4735, equation 3.
[[nodiscard]] double relative_air_mass(Altitude apparent) noexcept;

}  // namespace keyhour::light
