#pragma once
/// @file
/// The timetable on paper: a page a day of a shoot, whatever its rooms.

#include <string>

#include "plan_page.hpp"

namespace keyhour::tell {

/// One HTML file that asks nobody for anything, in the light sheet's look; it prints on one page.
/// The same input gives the same bytes. All text of the shoot is escaped.
/// @param day  of answer.days. @pre the answer has a plan
[[nodiscard]] std::string shoot_sheet(const ask::PlanAnswer& answer, const PlanQuestion& q,
                                      std::size_t day);

}  // namespace keyhour::tell
