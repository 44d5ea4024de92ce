#pragma once
// Several rooms on one day: the order in which they can be reached, each in its light.

#include <iosfwd>
#include <string>
#include <vector>

#include "batch_answer.hpp"

namespace keyhour::cli {

[[nodiscard]] std::string visit_csv_head();

/// For each date of the question the plan that reaches the most rooms.
/// @pre at most study::most_visit_rooms places, each with all dates of the question
void print_visit(const BatchQuestion& question, const std::vector<BriefPlace>& places,
                 std::ostream& out);

}  // namespace keyhour::cli
