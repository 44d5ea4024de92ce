#pragma once
/// @file
/// A shoot's timetable as events of a calendar.

#include <vector>

#include "keyhour/ask/plan.hpp"
#include "sheet_events.hpp"

namespace keyhour::tell {

/// Drives and set-ups, each with an alarm when it begins; scenes, locks with their over-run; cloth
/// to hang, with its alarm half an hour before.
/// @pre the answer has a plan
[[nodiscard]] std::vector<SheetEvent> shoot_events(const study::Shoot& shoot,
                                                   const ask::PlanAnswer& answer);

/// Whose calendar that is: the shoot's name, its clocks, its first place.
[[nodiscard]] site::Location shoot_as_location(const study::Shoot& shoot);

}  // namespace keyhour::tell
