#pragma once
/// @file
/// The moon: where it stands, how much of it is lit, when it rises and sets, its quarters.

#include <cstddef>
#include <optional>
#include <span>

#include "keyhour/sun/events.hpp"
#include "keyhour/sun/position.hpp"

namespace keyhour::sun {

/// The moon's centre from the Earth's centre: true equator and equinox of date, light time
/// included.
struct GeocentricMoon {
    ApparentVector vector;   ///< au; with the sidereal time
    Angle right_ascension;   ///< 0..360 degrees
    Angle declination;       ///< -28.8..28.8 degrees
    double distance_km = 0;  ///< Earth's centre to moon's centre, 356,000..407,000
    /// Ecliptic longitude of the moon less the sun's, 0..360 degrees: 0 new, 90 first quarter, 180
    /// full, 270 last quarter. Below 180 the moon waxes.
    Angle longitude_from_sun;
    Angle elongation;               ///< moon to sun seen from the Earth's centre, 0..180 degrees
    Angle phase_angle;              ///< Earth to sun seen from the moon, 0 (full)..180 degrees
    double illuminated_fraction{};  ///< of the disc's area, 0..1

    [[nodiscard]] bool is_waxing() const noexcept {
        return longitude_from_sun < Angle::degrees(180);
    }
};

/// The moon at one instant.
/// Accuracy: within 15 arcsec in direction and 30 km in distance of ELP 2000-82B, 1900-2100; delta
/// T unknown to a second moves it by 0.5 arcsec. The shortened series limits it.
/// Source: Meeus, Astronomical Algorithms, 2nd ed. (1998), ch. 47 and 48; see
/// src/sun/moon_terms.hpp.
/// @param sun  the sun at t, from a Track or apparent_vector(t): also says the sidereal time
/// @pre is_served(t)
[[nodiscard]] GeocentricMoon geocentric_moon(Instant t, const ApparentVector& sun) noexcept;
[[nodiscard]] GeocentricMoon geocentric_moon(Instant t) noexcept;

/// The moon as an observer sees it: parallax brings it down by up to a degree.
struct MoonPosition {
    Azimuth azimuth;             ///< topocentric
    Altitude true_altitude;      ///< topocentric, airless
    Altitude apparent_altitude;  ///< lifted by refraction
    Angle semi_diameter;         ///< topocentric, 0.24..0.28 degrees
    double distance_km = 0;      ///< from the observer
};

[[nodiscard]] MoonPosition moon_position(const Place& place, const GeocentricMoon& moon) noexcept;

/// Moonrise and moonset in from <= t < to, ascending: the upper limb of the moon, lifted by 34
/// arcminutes (the almanacs' convention), on a level horizon: the centre's airless topocentric
/// altitude is -34' less the semi-diameter.
/// Error: 0.1 s against the moon's own place, whose 15 arcsec are 1 s and, where the moon rises
/// flat, more. A rise and set within some minutes of each other near the poles may be passed over.
/// @param out  three are enough for a day; further ones are dropped
/// @pre track.from() <= from and to <= track.to()
[[nodiscard]] Crossings moon_crossings(const Track& track, const Place& place, Instant from,
                                       Instant to, std::span<Crossing> out) noexcept;

enum class Quarter { new_moon, first_quarter, full_moon, last_quarter };

struct QuarterInstant {
    Instant at;
    Quarter quarter = Quarter::new_moon;
};

/// The next new moon, quarter or full moon after t: the instants at which the moon's apparent
/// geocentric longitude is a multiple of 90 degrees ahead of the sun's. Within 30 s.
/// @return nothing if it falls beyond the years served
[[nodiscard]] std::optional<QuarterInstant> next_quarter(Instant t) noexcept;

}  // namespace keyhour::sun
