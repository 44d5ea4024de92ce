#pragma once
// Rooms against dates in one grid: the best hold, its hour, how sure it is.

#include <iosfwd>
#include <vector>

#include "batch_answer.hpp"

namespace keyhour::cli {

/// More than these are no grid that a person can look at.
inline constexpr std::size_t most_compared_rooms = 40, most_compared_dates = 31;

/// @pre every place has all dates of the question
void print_compare(const BatchQuestion& question, const std::vector<BriefPlace>& places,
                   std::ostream& out);

}  // namespace keyhour::cli
