#pragma once
/// @file
/// The sun's day at a site: rise, transit, set, twilights, first and last sun, late light.

#include <optional>
#include <string>
#include <vector>

#include "keyhour/site/location.hpp"
#include "keyhour/study/late_light.hpp"
#include "keyhour/sun/events.hpp"
#include "keyhour/sun/track.hpp"

namespace keyhour::study {

enum class DayEventKind {
    astronomical_dawn,  ///< the sun's centre 18 degrees below the horizon, airless
    nautical_dawn,      ///< 12 degrees
    civil_dawn,         ///< 6 degrees
    rise,               ///< 0.8333 degree: 34' of air and the disc's half, 16'
    first_sun,          ///< the sun's centre, refracted, comes over the site's own horizon
    transit,            ///< highest, over the meridian
    last_sun,           ///< as first_sun, going below it
    set,                ///< as rise
    civil_dusk,         ///< the dusks as the dawns
    nautical_dusk,
    astronomical_dusk,
};

/// "astronomical_dawn": as JSON names it.
[[nodiscard]] const char* name(DayEventKind kind) noexcept;

/// "astronomical dawn": as people read it.
[[nodiscard]] std::string in_words(DayEventKind kind);

/// An event that the date has.
struct DayEvent {
    DayEventKind kind = DayEventKind::transit;
    Instant at;
    Azimuth azimuth;         ///< of the sun's centre
    Altitude true_altitude;  ///< airless
};

/// An event that the date does not have; `crosses` means: the sun passes that altitude on the date,
/// but only in the other direction.
struct AbsentEvent {
    DayEventKind kind = DayEventKind::transit;
    sun::Side sun = sun::Side::crosses;  ///< else it stays above or below all day
};

/// Over a level horizon, by rise and set.
enum class DayState { sun_rises_or_sets, sun_always_up, sun_always_down };

/// A local date, from midnight to midnight: 23 to 25 hours where the clocks change.
struct Day {
    site::LocalDate date;
    bool exists = true;               ///< a zone that moves across the date line leaves a date out
    std::vector<DayEvent> events;     ///< ascending in time
    std::vector<AbsentEvent> absent;  ///< in the order of DayEventKind
    DayState state = DayState::sun_rises_or_sets;  ///< the polar day and night have no rise
    Seconds length{};                              ///< time from rise to set that falls on the date
    std::vector<LateLight> late_light;             ///< with its sun over the site's own horizon
};

/// The sun's centre, refracted, over the site's own horizon.
struct SunOverHorizon {
    std::optional<Instant> first;  ///< when it first comes over it
    std::optional<Instant> last;   ///< when it last goes below it
    bool is_above_at_start = false;
    std::vector<Span> above;  ///< ascending
};

/// To a hundredth of a second; what is shorter than two minutes may be passed over.
/// @pre  the track covers from..to
[[nodiscard]] SunOverHorizon sun_over_horizon(const site::Site& site, const sun::Track& track,
                                              Instant from, Instant to);

/// The events that fall on a local date, by the almanacs' conventions (design.md, section 3).
/// An event may happen twice on a date, or not at all.
/// @pre  track covers the date and an hour to either side
[[nodiscard]] Day day(const site::Site& site, const sun::Track& track, site::LocalDate date,
                      const LateLightBand& band = {});

}  // namespace keyhour::study
