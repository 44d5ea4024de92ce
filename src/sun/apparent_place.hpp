#pragma once
/// @file
/// From the Earth's path to the sun's apparent place, as a function of TT alone.

namespace keyhour::sun {

struct ApparentPlace {
    double x, y, z;          ///< au, true equator and equinox of date
    double sidereal_offset;  ///< Greenwich apparent sidereal time less Earth rotation, turns
};

/// @param tt_s  seconds of TT since 2000-01-01T12:00 TT, within 1800-2200
[[nodiscard]] ApparentPlace apparent_place(double tt_s) noexcept;

/// Mean obliquity of the ecliptic, radians; IAU 2006. @param centuries  of TT since J2000.0
[[nodiscard]] double mean_obliquity(double centuries) noexcept;

}  // namespace keyhour::sun
