#pragma once
// The door between the program and the module that holds the search. The constraint library would
// make every command's start half as long again (14 to 23 ms), so it is loaded when a plan is
// asked.

#include "keyhour/study/plan_search.hpp"

namespace keyhour::study {

/// One of the module's two functions, by its name there.
using PlanSearch = void (*)(const PlanProblem& problem, const PlanEffort& effort, PlanFound& found);

inline constexpr const char* plan_module_file = "libkeyhour_plan.so";
inline constexpr const char* best_plan_name = "keyhour_best_plan";
inline constexpr const char* any_plan_name = "keyhour_any_plan";

}  // namespace keyhour::study
