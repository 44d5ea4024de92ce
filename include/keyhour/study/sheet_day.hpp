#pragma once
/// @file
/// All that the page of the light sheet tells of one date: the strip's answers, the patches and
/// levels at every step of a slider, the covers for the best key.

#include <optional>
#include <vector>

#include "keyhour/light/clear_sky.hpp"
#include "keyhour/study/day_strip.hpp"
#include "keyhour/study/key_doubt.hpp"
#include "keyhour/study/light_changes.hpp"
#include "keyhour/study/lock.hpp"
#include "keyhour/study/patch_day.hpp"
#include "keyhour/study/spot_doubt.hpp"

namespace keyhour::study {

inline constexpr Seconds sheet_step{300};

/// What a meter reads at a mark, and through which window the most of it comes.
struct MarkReading {
    std::size_t window = 0;  ///< that gives the mark most light
    double coverage = 0;     ///< of the mark by the sun through it, 0..1
    light::Band level_lx;    ///< key and fill together; over the neighbouring airs
};

struct SheetStep {
    PatchInstant now;
    std::vector<std::optional<double>> edge_bands_m;  ///< of its patches, see PatchEnsemble
    std::vector<MarkReading> marks;                   ///< by mark
};

/// Changes of light that fall in one minute of the clock, and the room as they leave it.
struct SheetChange {
    Instant at;  ///< of the first of them
    std::vector<LightChange> changes;
    SheetStep step;  ///< a second within the light: after a beginning, before an end
};

struct SheetDay {
    DayStrip strip;
    std::vector<HoldDoubt> doubts;  ///< one for each of the strip's keys
    /// For each spot of the strip, and each of its direct light's spans.
    std::vector<std::vector<SpotEnsemble::Ends>> spot_ends;
    /// From local midnight on in steps of sheet_step, those at which the sun is up; without a room
    /// none.
    std::vector<SheetStep> steps;
    std::vector<SheetChange> changes;  ///< ascending; without a room none
    std::vector<NearestMiss> misses;   ///< where a date has no key at all
    /// The planned lock; without one the best key's time: every other opening that lets sun in
    /// then, and its cover.
    std::optional<LockAnswer> lock;
    /// What rigging is counted back from: the planned lock's start, else the best key's; where
    /// there is no room for a key, the start of the longest light that a spot wants.
    std::optional<Instant> ready_by;
};

/// The best key that exists at the stated bearing; null if there is none.
[[nodiscard]] const KeyInterval* best_key(const DayStrip& strip) noexcept;

/// @pre key is one of day.strip.keys
[[nodiscard]] const HoldDoubt& doubt_of(const SheetDay& day, const KeyInterval& key) noexcept;

/// @param location  as read from its file
/// @param room      the room on that date; null where the location has none, or one without windows
/// @pre the track reaches from a day before the date to two days after its end
[[nodiscard]] SheetDay sheet_day(const site::Location& location, const RoomStudy* room,
                                 const std::shared_ptr<const SharedTrack>& shared,
                                 site::LocalDate date);
/// With the strip of that date known already.
[[nodiscard]] SheetDay sheet_day(const site::Location& location, const RoomStudy* room,
                                 const std::shared_ptr<const SharedTrack>& shared, DayStrip strip);

}  // namespace keyhour::study
