#pragma once
/// @file
/// The sun's apparent place as seen from the Earth's centre: what depends on time alone.

#include "keyhour/sun/angle.hpp"
#include "keyhour/sun/instant.hpp"

namespace keyhour::sun {

/// First and last instant served: 1800-01-01 and 2200-01-01, UTC.
inline constexpr Instant first_instant = Instant::from_unix_s(-5364662400.0);
inline constexpr Instant last_instant = Instant::from_unix_s(7258118400.0);

/// Is t within the years served?
[[nodiscard]] constexpr bool is_served(Instant t) noexcept {
    return t >= first_instant && t <= last_instant;
}

/// True equator and equinox of date; aberration and light time included.
struct GeocentricSun {
    Angle right_ascension;  ///< 0..360 degrees
    Angle declination;
    double distance_au = 0;
    Angle sidereal_time;     ///< Greenwich apparent, UT1 = UTC, 0..360 degrees
    Angle equation_of_time;  ///< apparent less mean solar time, -180..180 degrees (4 min a degree)
};

/// The sun at one instant, from series (a "cold" position: no track needed).
/// @pre is_served(t)
[[nodiscard]] GeocentricSun geocentric_sun(Instant t) noexcept;

}  // namespace keyhour::sun
