#pragma once
/// @file
/// The sun is a disc, not a point.

#include "keyhour/sun/angle.hpp"

namespace keyhour::light {

/// The sun's angular radius, seen from a distance in au. Source: Auwers (1891), 959.63 arcsec.
[[nodiscard]] constexpr Angle sun_semi_diameter(double distance_au) noexcept {
    return Angle::arcseconds(959.63 / distance_au);
}

/// How much of the disc stands above a level horizon, 0..1; half with the centre on it.
/// @param apparent  of the centre
/// Closed form of the circle's segment. That the beam is dimmed in this proportion is this
/// project's choice: the disc's darker limb and the bent lower limb are left out.
[[nodiscard]] double disc_share(Altitude apparent, double distance_au) noexcept;

}  // namespace keyhour::light
