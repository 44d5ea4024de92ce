#pragma once
/// @file
/// How much air the sun's light comes through.

#include "keyhour/sun/angle.hpp"

namespace keyhour::light {

/// Relative optical air mass: 1 with the sun overhead.
/// @param apparent  of the sun, 0..90 degrees; below the horizon the horizon's value is returned
/// @return          0.9997 at 90 degrees, 37.9 at the horizon; the formula follows its authors'
///                 table within 0.5 %
/// No error: every altitude has an answer.
/// Source: Kasten & Young, Applied Optics 28 (1989) 4735, equation 3.
[[nodiscard]] double relative_air_mass(Altitude apparent) noexcept;

/// Relative path through the ozone, which lies as a thin shell 22 km up.
/// @param apparent  of the sun; below the horizon the horizon's value is returned
/// @return          1 at 90 degrees, 12.1 at the horizon
/// Source: Bird & Riordan, SERI/TR-215-2436 (1984), equation 2-10.
[[nodiscard]] double relative_ozone_mass(Altitude apparent) noexcept;

/// Pressure of the standard atmosphere against that at sea level.
/// @param elevation_m  of the site; outside -500..11 000 m the nearer end's value is returned
/// @return             1 at sea level, 0.887 at 1000 m
/// Source: ISO 2533, Standard Atmosphere.
[[nodiscard]] double pressure_ratio(double elevation_m) noexcept;

}  // namespace keyhour::light
