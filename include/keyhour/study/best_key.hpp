#pragma once
/// @file
/// The clean keys of many dates at one place, and which of them a crew can use.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "keyhour/study/clean_key.hpp"

namespace keyhour::study {

/// What an interval must be to be of use. Without any, every hold at the stated bearing is.
struct KeyCriteria {
    Seconds min_hold{0};
    Seconds min_sure{0};
    /// Local times of day, since midnight: what lies before or after is cut off the interval.
    std::optional<std::chrono::seconds> earliest_start, latest_end;

    /// Direct sun at the mark through the key window, square to the beam, clear sky, at the weaker
    /// end; lx.
    std::optional<double> min_level_lx;
};

/// What one date, or the best of many, gives.
struct KeyChoice {
    std::vector<KeyInterval> fitting;    ///< best first
    std::optional<KeyInterval> nearest;  ///< the best of the others, if none fits
    bool is_outside_hours = false;       ///< no part of `nearest` lies within the hours wanted
    std::optional<NearestMiss> miss;     ///< where there is no interval at all: see add_miss
    std::string why_not;                 ///< why none fits; empty if one does

    [[nodiscard]] bool fits() const { return !fitting.empty(); }
};

struct DateChoice {
    site::LocalDate date;
    KeyChoice choice;
};

/// The choice of every date, not yet described. An interval belongs to the date on which it starts.
/// @param dates  ascending, each once
/// @pre the study's track reaches from two days before the first to three days after the last
[[nodiscard]] std::vector<DateChoice> key_choices(const RoomStudy& study,
                                                  std::span<const site::LocalDate> dates,
                                                  const KeySettings& settings,
                                                  const KeyCriteria& criteria);

/// Fills in what is told about the intervals beside their times; an end cut by the hours wanted
/// names no edge. Costs more than the search: only for what is shown.
void describe(const RoomStudy& study, const KeySettings& settings, KeyChoice& choice);

/// Of a choice without any interval says what came nearest on the dates, or keeps the nearer one
/// that it says already; nothing else needs it, and a date of it costs as much as finding its keys.
/// @param dates  as for key_choices
void add_miss(const RoomStudy& study, std::span<const site::LocalDate> dates,
              const KeySettings& settings, KeyChoice& choice);

/// Adds a later date's choice to that of earlier ones.
/// @param keep_all  all that fit, not only the best
void add_choice(KeyChoice& total, KeyChoice other, bool keep_all);

}  // namespace keyhour::study
