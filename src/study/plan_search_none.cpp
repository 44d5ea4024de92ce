// The build without the constraint library.
#include "keyhour/study/plan_search.hpp"

namespace keyhour::study {

bool can_plan() noexcept {
    return false;
}
PlanFound best_plan(const PlanProblem&, const PlanEffort&) {
    return {};
}
PlanFound any_plan(const PlanProblem&, const PlanEffort&) {
    return {};
}

}  // namespace keyhour::study
