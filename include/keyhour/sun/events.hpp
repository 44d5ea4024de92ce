#pragma once
/// @file
/// Transit, rise, set, twilights, and crossings of any altitude.

#include <cstddef>
#include <span>

#include "keyhour/sun/track.hpp"

namespace keyhour::sun {

/// Airless topocentric altitude of the sun's centre at rise and set: 34' of refraction, 16' of
/// disc: the convention of the almanacs.
inline constexpr Altitude rise_altitude{Angle::degrees(-0.8333)};
inline constexpr Altitude civil_altitude{Angle::degrees(-6)};
inline constexpr Altitude nautical_altitude{Angle::degrees(-12)};
inline constexpr Altitude astronomical_altitude{Angle::degrees(-18)};

struct Crossing {
    Instant at;
    bool upward = false;  ///< the sun rises through the altitude
};

/// What an interval of time looks like from an altitude's point of view.
enum class Side { crosses, always_above, always_below };

struct Crossings {
    std::size_t count = 0;  ///< written to the caller's span, ascending in time
    Side side = Side::crosses;
};

/// Crossings of `altitude` (airless, topocentric) by the sun's centre in from <= t < to.
/// A sun that stands exactly at the altitude counts as above; one that touches it from below for
/// less than a second (0.0005 arcsec) may count as below throughout.
/// @param altitude  -90..90 degrees
/// @param out       receives them; three a day are enough, further ones are dropped
/// @return          where `from` is not before `to`: no crossing, and the side at `from`
/// Error: 0.001 s against the track itself; where the sun grazes the altitude, the time in which
/// it moves 0.001 arcsec up or down. What the track's own error (0.2 arcsec) moves comes on top:
/// 0.03 s at 50 degrees of latitude.
/// @pre track.from() <= from and to <= track.to()
[[nodiscard]] Crossings crossings(const Track& track, const Place& place, Altitude altitude,
                                  Instant from, Instant to, std::span<Crossing> out) noexcept;

/// Upper transits in from <= t < to, ascending: the sun's centre on the observer's meridian,
/// geocentric hour angle zero (parallax does not move it; diurnal aberration, 0.02 s, is left out).
/// @return how many were written; two can fall on one long local day
/// @pre track.from() <= from and to <= track.to()
[[nodiscard]] std::size_t transits(const Track& track, const Place& place, Instant from, Instant to,
                                   std::span<Instant> out) noexcept;

}  // namespace keyhour::sun
