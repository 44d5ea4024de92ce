#pragma once
/// @file
/// Light on level ground from noon to night: sun, clear sky, moon.

#include "keyhour/sun/angle.hpp"

namespace keyhour::light {

/// Illuminance of a level plane by sun and clear sky together, lx, at mean distance.
/// @param true_altitude  of the sun, airless, -90..90 degrees; below -18 degrees the value there,
///                       0.64 mlx, stands for a moonless clear night (0.2 to 2 mlx in the open,
///                       far from any town: from memory)
/// Rises with altitude everywhere. Where two of the published polynomials meet, up to 1 % apart,
/// one passes into the other over half a degree (this project's choice).
/// Range: clear weather; the authors give no error. Cloud takes away up to a factor 10 by day, less
/// in twilight.
/// Source: Janiczek & DeYoung, U.S. Naval Observatory Circular 171 (1987).
[[nodiscard]] double clear_day_to_night_lx(Altitude true_altitude) noexcept;

/// Illuminance of a level plane by the moon, lx, clear air, mean distance (13 % more or less at
/// the ends of its orbit).
/// @param true_altitude  of the moon, airless; as it sets below -0.8 degree the light fades as
///                       the sun's does (this project's choice) and is nothing below -18 degrees
/// @param phase_angle    between sun and Earth as seen from the moon: 0 full, 90 half, 180 new;
///                       its sign does not matter
/// @return               0.27 lx for the full moon overhead
/// Source: USNO Circular 171, as above.
[[nodiscard]] double moonlight_lx(Altitude true_altitude, Angle phase_angle) noexcept;

}  // namespace keyhour::light
