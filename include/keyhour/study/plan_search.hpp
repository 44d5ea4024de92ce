#pragma once
/// @file
/// Finds plans: a constraint library's work, in one source file. A build without it
/// (-DKEYHOUR_PLAN=OFF) has the same functions, and can_plan() says no.

#include <optional>

#include "keyhour/study/plan_problem.hpp"

namespace keyhour::study {

/// Was the program built with the constraint library?
[[nodiscard]] bool can_plan() noexcept;

/// How far to look; counted in the search's nodes, so that the same question has the same answer.
struct PlanEffort {
    int dispatched = 400;         ///< plans tried to be made straight on, before the search
    unsigned long first = 200;    ///< before another order of trying is taken up
    unsigned long nodes = 6000;   ///< of the search through all orders
    unsigned long polish = 3000;  ///< then of bettering the best found part by part
};

struct PlanFound {
    std::optional<Plan> plan;
    /// The plan is the best there is; without a plan: there is none.
    bool is_proven = false;
};

/// The plan of most worth. @pre can_plan(); every scene has a slot or may be dropped, or the answer
/// is none
[[nodiscard]] PlanFound best_plan(const PlanProblem& problem, const PlanEffort& effort = {});

/// The first plan found. @pre can_plan()
[[nodiscard]] PlanFound any_plan(const PlanProblem& problem, const PlanEffort& effort = {});

}  // namespace keyhour::study
