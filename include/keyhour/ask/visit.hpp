#pragma once
/// @file
/// Several rooms on one day: the order in which a crew reaches most of them in their light.

#include <span>
#include <vector>

#include "keyhour/ask/compare.hpp"
#include "keyhour/study/visit.hpp"

namespace keyhour::ask {

struct VisitDay {
    site::LocalDate date;
    /// Its rooms are the places, its holds those of the place on this date.
    study::VisitPlan plan;
};

/// A plan for each date, by study::plan_visit.
/// @param places  at most study::most_visit_rooms, all with the same dates
[[nodiscard]] std::vector<VisitDay> visit(std::span<const BriefPlace> places,
                                          const study::VisitSettings& settings);

}  // namespace keyhour::ask
