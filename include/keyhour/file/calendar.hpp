#pragma once
/// @file
/// The light sheet as a calendar (RFC 5545).

#include <string>
#include <string_view>
#include <vector>

#include "keyhour/file/sheet_events.hpp"

namespace keyhour::file {

/// Keys, covers, the spots' light and the rigging, each an event at the site's local time with the
/// zone's rules for the years used; an alarm when rigging, or a spot's set-up, must begin.
///
/// A UID is made of the location's name, the kind, the mark, window, camera or spot, the date and
/// the number among those alike: a second export updates the first. SEQUENCE is 0; an event that
/// `before` holds with other words or times has one more than there. The same input gives the same
/// bytes: DTSTAMP is 2000-01-01 and as many seconds as the SEQUENCE counts.
/// @param before  the calendar that this one replaces; empty if there is none
[[nodiscard]] std::string calendar(const std::vector<SheetEvent>& events,
                                   const site::Location& location, std::string_view before = {});

}  // namespace keyhour::file
