#pragma once
/// @file
/// The light sheet as a calendar (RFC 5545).

#include <string>
#include <string_view>
#include <vector>

#include "sheet_events.hpp"

namespace keyhour::tell {

/// Keys, covers, cloth to hang, the spots' light and the rigging, each an event at the site's local
/// time with the zone's rules for the years used. Whole minutes, as on the page: a spot's light is
/// rounded inward, covers outward, what must be done by then down. An alarm when rigging, or a
/// spot's set-up, must begin, and half an hour before a set-up must begin or cloth must hang.
///
/// A UID is made of the location's name, the kind, the mark, window, camera or spot, the date and
/// the number among those alike: a second export updates the first. SEQUENCE is 0; an event that
/// `before` holds with other words or times has one more than there. An event that `before` holds
/// for this location and one of the dates, and that is no more, stays as one that is cancelled.
/// @param events  of every date exported, the day's own events among them
/// @param now     DTSTAMP, the time of its last revision, of what is new or changed; all else keeps
///                its own
/// @param before  the calendar that this one replaces; empty if there is none
[[nodiscard]] std::string calendar(const std::vector<SheetEvent>& events,
                                   const site::Location& location, Instant now,
                                   std::string_view before = {});

}  // namespace keyhour::tell
