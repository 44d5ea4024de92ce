#pragma once
/// @file
/// All that the light sheet tells of one date, side by side: the sun through each window, the clean
/// keys, what must be covered, and the light of each spot outside.

#include <memory>
#include <vector>

#include "keyhour/site/dates.hpp"
#include "keyhour/study/clean_key.hpp"
#include "keyhour/study/day.hpp"
#include "keyhour/study/lamp_day.hpp"
#include "keyhour/study/spot_light.hpp"

namespace keyhour::study {

/// When direct sun enters through one opening; its cover is not looked at.
struct WindowSun {
    std::size_t window = 0;      ///< index into Room::windows
    std::vector<Span> stated;    ///< at the stated bearing
    std::vector<Span> sure;      ///< at every bearing within the stated doubt
    std::vector<Span> possible;  ///< at some
};

/// A window to be covered while a clean key runs. Needs of one window that touch are one.
struct CoverNeed {
    std::size_t window = 0;  ///< index into Room::windows
    Span span;
};

/// The lock that the location plans, and what was asked about it.
struct PlannedLock {
    LampDayQuestion question;
    LampDay day;
};

struct DayStrip {
    site::LocalDate date;
    Instant from, to;  ///< the local date
    Day day;
    std::vector<WindowSun> windows;  ///< one for each window; empty without a room
    std::vector<KeyInterval> keys;   ///< described, best first
    std::vector<CoverNeed> covers;   ///< ascending by window, then time
    /// Where the location plans a lock: nothing else is keyed by a lamp.
    std::optional<PlannedLock> planned;
    std::vector<SpotDay> spots;                    ///< one for each spot
    std::vector<site::ClockChange> clock_changes;  ///< on the date
};

/// @param location  as read from its file
/// @param room      the room on that date; null where the location has none
/// @pre the track reaches from a day before the date to two days after its end
[[nodiscard]] DayStrip day_strip(const site::Location& location, const RoomStudy* room,
                                 const std::shared_ptr<const SharedTrack>& shared,
                                 site::LocalDate date, const KeySettings& key = {},
                                 const SpotSettings& spot = {});

/// Sun through one opening from..to, with its doubt.
[[nodiscard]] WindowSun window_sun(const RoomStudy& study, std::size_t window, Instant from,
                                   Instant to);

/// What the clean keys need covered.
[[nodiscard]] std::vector<CoverNeed> cover_needs(const std::vector<KeyInterval>& keys);

/// The lock of the location's plan on a date; nothing without a plan, or a lamp and window for it.
/// @pre the study's track reaches from a day before the date to two days after its start
[[nodiscard]] std::optional<PlannedLock> planned_lock(const RoomStudy& study, site::LocalDate date);

/// What hangs while the planned lock lasts; empty without one.
[[nodiscard]] std::vector<CoverNeed> covers_of_lock(const DayStrip& strip);

/// Whole hours (or half hours, where the sun is in for less than two) at which the sun lands in the
/// room, thinned evenly to `most`.
/// @pre the study's track covers the date
[[nodiscard]] std::vector<Instant> hours_of_patches(const RoomStudy& study, site::LocalDate date,
                                                    std::size_t most = 4);

/// Start, middle and end of a hold in whole minutes within it; its middle alone where it is too
/// short for a whole minute.
[[nodiscard]] std::vector<Instant> minutes_of_hold(const Span& hold);

/// What a plan shows of a date: the best key's minutes_of_hold; where no key exists at the stated
/// bearing hours_of_patches. Ascending.
/// @param keys  of the date, best first
/// @pre the study's track covers the date
[[nodiscard]] std::vector<Instant> plan_hours(const RoomStudy& study, site::LocalDate date,
                                              const std::vector<KeyInterval>& keys);

/// Whole hours (else the middles) at which the sun is in, three at most: first, middle, last.
[[nodiscard]] std::vector<Instant> hours_of_sun(const WindowSun& sun, const site::Zone& zone);

}  // namespace keyhour::study
