#pragma once
/// @file
/// Transit, rise, set, twilights, and crossings of any altitude.

#include <cstddef>
#include <span>

#include "keyhour/sun/track.hpp"

namespace keyhour::sun {

/// Airless topocentric altitude of the sun's centre at rise and set: 34' of refraction, 16' of
/// disc.
inline constexpr Altitude rise_altitude{Angle::degrees(-0.8333)};
inline constexpr Altitude civil_altitude{Angle::degrees(-6)};
inline constexpr Altitude nautical_altitude{Angle::degrees(-12)};
inline constexpr Altitude astronomical_altitude{Angle::degrees(-18)};

struct Crossing {
    Instant at;
    bool upward = false;
};

/// What an interval of time looks like from an altitude's point of view.
enum class Side { crosses, always_above, always_below };

struct Crossings {
    std::size_t count = 0;  ///< written to the caller's span, ascending in time
    Side side = Side::crosses;
};

/// Crossings of `altitude` (airless) by the sun's centre in from <= t < to.
/// @param out  receives them; three a day are enough, further ones are dropped
[[nodiscard]] Crossings crossings(const Track& track, const Place& place, Altitude altitude,
                                  Instant from, Instant to, std::span<Crossing> out) noexcept;

/// Upper transits (sun on the meridian, hour angle zero) in from <= t < to, ascending.
/// @return how many were written; two can fall on one long local day
[[nodiscard]] std::size_t transits(const Track& track, const Place& place, Instant from, Instant to,
                                   std::span<Instant> out) noexcept;

}  // namespace keyhour::sun
