#pragma once
/// @file
/// Where the Earth stands, seen from the sun.

namespace keyhour::sun {

struct EclipticPlace {
    double longitude, latitude;  ///< radians, ecliptic and equinox of J2000.0
};

/// Distance from the sun's centre to the Earth's, au, within 1e-6 au.
/// @param millennia  Julian millennia of TT since J2000.0, -0.2..0.2
[[nodiscard]] double earth_radius_vector(double millennia) noexcept;

/// Heliocentric direction of the Earth's centre.
/// @param millennia  Julian millennia of TT since J2000.0, -0.2..0.2
[[nodiscard]] EclipticPlace earth_ecliptic_place(double millennia) noexcept;

}  // namespace keyhour::sun
