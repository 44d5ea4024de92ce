#pragma once
/// @file
/// What the year's sun makes one ask about a room: windows that it never meets.

#include <string>
#include <vector>

#include "keyhour/site/location.hpp"
#include "keyhour/study/window_hours.hpp"

namespace keyhour::tell {

/// The location's own questions between one about the room as a whole and those about its windows.
/// @param sun   study::window_hours of that year; empty without a room
[[nodiscard]] std::vector<std::string> check_questions(const site::Location& location,
                                                       const std::vector<study::WindowHours>& sun,
                                                       date::year year);

}  // namespace keyhour::tell
