#pragma once
/// @file
/// Where the sun stands for an observer.

#include "keyhour/sun/geocentric.hpp"
#include "keyhour/sun/observer.hpp"

namespace keyhour::sun {

struct Position {
    Azimuth azimuth;             ///< topocentric
    Altitude true_altitude;      ///< topocentric, airless
    Altitude apparent_altitude;  ///< topocentric, lifted by refraction
    Angle right_ascension;       ///< geocentric apparent
    Angle declination;           ///< geocentric apparent
    Angle equation_of_time;
    Angle angular_diameter;  ///< topocentric
    double distance_au = 0;  ///< geocentric
};

/// How far the air lifts a body: apparent altitude = true altitude + refraction.
[[nodiscard]] Angle refraction(Altitude true_altitude, const Weather& weather = {}) noexcept;

/// What depends on the observer alone, computed once.
class Place {
public:
    explicit Place(const Observer& observer, const Weather& weather = {}) noexcept;

    /// Full position from a geocentric place of the sun.
    [[nodiscard]] Position position(const GeocentricSun& sun) const noexcept;

    /// Unit vector to the sun, airless (lifted = false) or along the refracted ray.
    [[nodiscard]] LevelVector direction(const GeocentricSun& sun,
                                        bool lifted = true) const noexcept;

private:
    Observer observer_;
    Weather weather_;
    double sin_latitude_ = 0, cos_latitude_ = 1;
    double axis_distance_ = 0, equator_distance_ = 0;  // of the observer, in au
};

}  // namespace keyhour::sun
