#pragma once
/// @file
/// Some scenes of a problem alone. Where the search can't tell within its effort whether all scenes
/// find a place, it often can of the few that have the least choice.

#include <optional>
#include <vector>

#include "keyhour/study/plan_search.hpp"

namespace keyhour::study {

struct PlanPart {
    std::vector<std::size_t> scenes;  ///< the whole's, ascending
    /// These alone: a plan of it is one of the whole with all others dropped.
    PlanProblem alone;
    /// Loosened where the others could have helped: where it has no plan, the whole has none.
    PlanProblem loose;
    std::vector<std::size_t> order, same_day;  ///< its pairs, by the whole's index
};

/// The scenes (ascending) alone. Others help by a short cut through their place, by a set-up that
/// they share and that takes less for them, and by a break at their place, with a shorter way to
/// what comes next: work without a break may last the longest way longer.
[[nodiscard]] PlanPart part_of(const PlanProblem& problem, std::vector<std::size_t> scenes);

/// All scenes, nothing loosened.
[[nodiscard]] PlanPart whole_of(const PlanProblem& problem);

/// A rule of the part as one of the whole.
[[nodiscard]] PlanRule of_whole(const PlanPart& part, const PlanRule& rule);

/// As few scenes as have no plan by themselves; any one less, and it is not shown. The scenes that
/// must be kept are taken together from the one with the least choice on. None: no plan fails, or
/// the effort ends before it is shown. @pre can_plan()
[[nodiscard]] std::optional<PlanPart> part_without_plan(const PlanProblem& problem,
                                                        const PlanEffort& effort = {});

}  // namespace keyhour::study
