#pragma once
/// @file
/// The sun's apparent place as seen from the Earth's centre: what depends on time alone.

#include "keyhour/sun/angle.hpp"
#include "keyhour/sun/instant.hpp"

namespace keyhour::sun {

/// First and last instant served: 1800-01-01 and 2200-01-01, UTC.
inline constexpr Instant first_instant = Instant::from_unix_s(-5364662400.0);
inline constexpr Instant last_instant = Instant::from_unix_s(7258118400.0);

/// Is t within the years served? (Not if it is NaN.)
[[nodiscard]] constexpr bool is_served(Instant t) noexcept {
    return t >= first_instant && t <= last_instant;
}

/// The apparent place as a vector: the form in which it is computed and interpolated. Earth's
/// centre to sun's centre, true equator and equinox of date; aberration and light time included.
struct ApparentVector {
    double x = 0;               ///< au, towards the equinox
    double y = 0;               ///< au, towards right ascension 6 h
    double z = 0;               ///< au, towards the north celestial pole
    double sidereal_turns = 0;  ///< Greenwich apparent sidereal time, turns, any whole number added
};

/// An apparent place and how fast it changes: each member a second.
struct ApparentMotion {
    ApparentVector at, rate;
};

/// The same place as angles.
struct GeocentricSun {
    Angle right_ascension;   ///< 0..360 degrees
    Angle declination;       ///< -23.5..23.5 degrees
    double distance_au = 0;  ///< Earth's centre to sun's centre at t, within 1e-6 au
    Angle sidereal_time;     ///< Greenwich apparent, UT1 = UTC, 0..360 degrees
    Angle equation_of_time;  ///< apparent less mean solar time, -180..180 degrees (4 min a degree)
};

/// The sun at one instant, from series (a "cold" position: no track needed).
/// No error: within the years served every instant has an answer.
/// Accuracy at equal delta T: within 0.2 arcsec of ERFA's epv00 with IAU 2006/2000A, 1900-2100
/// (0.12 seen at 40,000 random instants and places); 1 arcsec 1800-2200. The shortened series limit
/// it. Then UT1 = UTC (0.9 s) turns the Earth by up to 13.5 arcsec, and delta T unknown to a second
/// moves the sun by 0.04.
/// Source: VSOP87 (Bretagnon & Francou 1988), precession and sidereal time IAU 2006, nutation
/// IAU 2000B, each shortened; named at its table in src/sun.
/// @pre is_served(t)
[[nodiscard]] ApparentVector apparent_vector(Instant t) noexcept;

/// What apparent_vector(t) gives, as angles. @pre is_served(t)
[[nodiscard]] GeocentricSun geocentric_sun(Instant t) noexcept;

/// A vector that was computed for t, as angles.
[[nodiscard]] GeocentricSun as_angles(const ApparentVector& sun, Instant t) noexcept;

/// Angles as a vector.
[[nodiscard]] ApparentVector as_vector(const GeocentricSun& sun) noexcept;

}  // namespace keyhour::sun
