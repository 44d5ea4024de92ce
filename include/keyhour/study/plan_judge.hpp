#pragma once
/// @file
/// Does a plan keep the rules? Walked through item by item, without anything of the search.

#include <vector>

#include "keyhour/study/plan_problem.hpp"

namespace keyhour::study {

/// The rules that the plan breaks, each once; none for a sound plan. A scene that stands twice, is
/// neither planned nor dropped, or whose set-up, length or latest beginning are wrong, breaks
/// `kept`.
[[nodiscard]] std::vector<PlanRule> broken_rules(const PlanProblem& problem, const Plan& plan);

}  // namespace keyhour::study
