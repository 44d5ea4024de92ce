#pragma once
/// @file
/// Why there is no plan: rules of which no plan keeps all, though any but one of them can be kept;
/// and how little each would have to give.

#include <optional>
#include <vector>

#include "keyhour/study/plan_search.hpp"

namespace keyhour::study {

/// A rule of a conflict, and by how many minutes it must give so that there is a plan that keeps
/// all else.
struct Giving {
    PlanRule rule;
    /// Hours longer at the day's end, a shorter rest, longer work without a break, a longer day,
    /// moves shorter, people there longer, a shorter scene: minutes. None: it has no measure.
    std::optional<int> minutes;
};

struct PlanConflict {
    std::vector<PlanRule> rules;  ///< as `rules_of` orders them
    bool is_minimal = true;       ///< false: the search gave up before it was sure
    /// Of the rules, those that alone would have to give for the whole problem to have a plan;
    /// those with the fewest minutes first, then those without a measure.
    std::vector<Giving> enough;
    /// Of the rules that are not among them it is shown that they are not enough alone.
    bool enough_is_all = true;
};

/// Drops scene after scene, then rule after rule, and keeps those without which there is a plan.
/// @param is_proven  the search has shown that the problem has no plan
/// @return none where that is not shown of any part of it either
[[nodiscard]] std::optional<PlanConflict> conflict_of(const PlanProblem& problem, bool is_proven,
                                                      const PlanEffort& effort = {});

/// The problem with a rule loosened by so many minutes; as it is for one without a measure.
[[nodiscard]] PlanProblem loosened(const PlanProblem& problem, const PlanRule& rule, int minutes);

}  // namespace keyhour::study
