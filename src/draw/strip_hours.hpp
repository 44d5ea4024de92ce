#pragma once
/// @file
/// Which hours of a day a strip shows, and what it says of a change of clocks.

#include <string>
#include <utility>

#include "keyhour/study/day_strip.hpp"

namespace keyhour::draw {

/// Null where the day has none.
[[nodiscard]] const study::DayEvent* event(const study::Day& day, study::DayEventKind kind);

/// From the first to the last thing that the strip shows, to whole hours.
[[nodiscard]] std::pair<Instant, Instant> hours_shown(const study::DayStrip& strip);

/// "clocks go back 1 hour on this date"; "clocks go back 1 h".
[[nodiscard]] std::string change_in_words(const site::ClockChange& change, bool brief);

/// What the drawing shows, for those who cannot see it: suns, keys, lock, covers, events with
/// times.
[[nodiscard]] std::string strip_in_words(const study::DayStrip& strip,
                                         const site::Location& location);

}  // namespace keyhour::draw
