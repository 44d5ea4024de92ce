#pragma once
/// @file
/// Who looks at the sun, from where, through which air.

#include "keyhour/sun/angle.hpp"

namespace keyhour {

/// A place on the WGS 84 ellipsoid.
struct Observer {
    Angle latitude;          ///< geodetic, -90..90 degrees, north positive
    Angle longitude;         ///< -180..180 degrees, EAST positive
    double elevation_m = 0;  ///< above the ellipsoid (sea level is near enough), -500..9000 m
};

/// Air at the observer, for refraction only: pressure as a barometer there shows it, not reduced
/// to sea level. What is not given is the air of the refraction tables.
struct Weather {
    double pressure_hpa = 1010;
    double temperature_c = 10;
};

/// A vector in the observer's level frame, from the observer outward; a direction has length 1.
struct LevelVector {
    double east = 0, north = 0, up = 0;
};

}  // namespace keyhour
