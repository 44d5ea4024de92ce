#pragma once
/// @file
/// A lock keyed by a lamp outside, as JSON.

#include "document.hpp"
#include "keyhour/study/day_strip.hpp"

namespace keyhour::tell {

/// The lamp's report as `lamp --json` has it, the span free of sun around the lock, the light by
/// hour and what daylight does to it. @pre a lamp is asked about
[[nodiscard]] Json json_of(const study::PlannedLock& planned, const study::RoomStudy& study);

}  // namespace keyhour::tell
