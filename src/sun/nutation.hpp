#pragma once
/// @file
/// The nodding of the Earth's axis.

namespace keyhour::sun {

struct Nutation {
    double longitude = 0, obliquity = 0;     ///< delta psi, delta epsilon, radians
    double equation_of_equinoxes_extra = 0;  ///< beyond delta psi cos epsilon, radians
};

/// @param centuries  Julian centuries of TT since J2000.0, -2..2
/// @return within 0.01 arcsec of IAU 2000A
[[nodiscard]] Nutation nutation(double centuries) noexcept;

}  // namespace keyhour::sun
