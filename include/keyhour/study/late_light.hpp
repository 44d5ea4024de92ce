#pragma once
/// @file
/// Late light: while the sun stands within a band of altitudes, and what of that time it is out.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "keyhour/light/clear_sky.hpp"
#include "keyhour/site/location.hpp"
#include "keyhour/study/spans.hpp"
#include "keyhour/sun/track.hpp"

namespace keyhour::study {

/// Altitudes (airless) between which the light is called late; low < high.
/// Common practice, no source: 6 degrees above to 4 degrees below the horizon.
struct LateLightBand {
    Altitude low{Angle::degrees(-4)};
    Altitude high{Angle::degrees(6)};
};

/// Direct light without a break: the sun's centre, refracted, over all that stands before it.
struct DirectSpan {
    Span span;
    std::string begins_by, ends_by;  ///< what hides the sun before and after; "midnight"
    bool begins_at_midnight = false, ends_at_midnight = false;
    /// Does a thing of the plan hide it there, which turns with the plan's bearing?
    bool begin_turns = false, end_turns = false;
};

/// What the clear, open sky gives level ground over a stretch of time, without the sun.
struct SkyAlone {
    light::Band at_start_lx, at_end_lx;  ///< over the neighbouring airs and the models
    /// Lost over its first and its last ten minutes; negative while the light grows.
    double first_stops = 0, last_stops = 0;
};

/// A part of late light, in the sun or by the sky alone.
struct LateStretch {
    Span span;
    bool in_sun = false;
    std::optional<SkyAlone> sky{};  ///< of the sky alone, once add_sky has been asked
};

struct LateLight {
    Instant start, end;
    bool evening = false;                ///< the sun sinks through the band
    std::vector<LateStretch> stretches;  ///< ascending, from start to end without a gap
    /// Evening: when the sun goes for good, which may be before the band begins. Morning: when it
    /// first comes, which may be after the band's end. Nothing where it is out to the band's end
    /// (from its start), or not on that date.
    std::optional<Instant> sun_at;
    std::string behind;  ///< what it goes behind or comes from behind; empty: nothing told
};

/// When the sun stands within the band, in from <= t < to, ascending. Each is one stretch by the
/// sky alone until split_by_sun.
/// @pre  the track covers from..to and a second more
[[nodiscard]] std::vector<LateLight> late_light(const sun::Track& track, const sun::Place& place,
                                                Instant from, Instant to,
                                                const LateLightBand& band = {});

/// Which of it has direct light.
/// @param direct  of the same date, ascending
void split_by_sun(std::vector<LateLight>& lights, std::span<const DirectSpan> direct);

/// Until when the sun is out within it; nothing where the sky is alone throughout.
[[nodiscard]] std::optional<Instant> sun_until(const LateLight& light) noexcept;

/// What the sky gives where the sun does not reach. Some 50 us a stretch.
/// @pre  path covers the lights
void add_sky(std::vector<LateLight>& lights, const site::Site& site, const SunPath& path);

/// Air as the light layer counts it.
[[nodiscard]] light::Air air_of(site::AirClass air) noexcept;

}  // namespace keyhour::study
