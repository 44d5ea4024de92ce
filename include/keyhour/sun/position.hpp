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
    Angle equation_of_time;      ///< as in GeocentricSun
    Angle angular_diameter;      ///< topocentric
    double distance_au = 0;      ///< geocentric
};

/// How far the air lifts a body: apparent altitude = true altitude + refraction.
/// @param true_altitude  airless, -90..90 degrees; below -1.9 degrees, where the formula turns
///                       round, the value there (0.74 degree) is returned
/// @param weather        0..1100 hPa, -60..60 degrees C; no air, no refraction
/// @return               0.48 degree at the horizon, zero at the zenith; never negative
/// Apparent altitude rises with true altitude everywhere. Error: within 0.07 arcmin of Bennett's
/// values above the horizon; real air near the horizon strays by some arcminutes from day to day.
/// Source: Saemundsson (1986), Sky & Telescope 72, 70; Meeus, Astronomical Algorithms, ch. 16.
[[nodiscard]] Angle refraction(Altitude true_altitude, const Weather& weather = {}) noexcept;

/// Azimuth and altitudes alone: what a search over many instants asks for.
struct Horizontal {
    Azimuth azimuth;
    Altitude true_altitude, apparent_altitude;
};

/// What depends on the observer alone, computed once.
class Place {
public:
    /// @param observer  latitude -90..90 degrees; other figures as they are
    /// @param weather   as for refraction()
    explicit Place(const Observer& observer, const Weather& weather = {}) noexcept;

    [[nodiscard]] const Observer& observer() const noexcept { return observer_; }
    [[nodiscard]] const Weather& weather() const noexcept { return weather_; }

    /// Full position from a geocentric place of the sun.
    [[nodiscard]] Position position(const GeocentricSun& sun) const noexcept;

    /// Unit vector to the sun, airless (lifted = false) or along the refracted ray.
    [[nodiscard]] LevelVector direction(const GeocentricSun& sun,
                                        bool lifted = true) const noexcept;

    /// The same from a vector: faster, for loops.
    [[nodiscard]] LevelVector direction(const ApparentVector& sun,
                                        bool lifted = true) const noexcept;

    [[nodiscard]] Horizontal horizontal(const ApparentVector& sun) const noexcept;

    /// Observer to sun's centre, au, airless, the observer's own speed (diurnal aberration)
    /// included. Parallax and the observer's height are those of the WGS 84 ellipsoid.
    [[nodiscard]] LevelVector topocentric(const ApparentVector& sun) const noexcept;

    /// How fast topocentric() changes, au a second.
    /// @param rate  of x, y, z (au a second) and of the sidereal time (turns a second)
    [[nodiscard]] LevelVector topocentric_rate(const ApparentVector& sun,
                                               const ApparentVector& rate) const noexcept;

private:
    Observer observer_;
    Weather weather_;
    double sin_latitude_ = 0, cos_latitude_ = 1;
    double axis_distance_ = 0, equator_distance_ = 0;  // of the observer, in au
    double speed_ = 0;              // of the observer, eastward, in units of light's
    double longitude_turns_ = 0;    // east positive
    double refraction_factor_ = 1;  // density of the air against the formula's
};

}  // namespace keyhour::sun
