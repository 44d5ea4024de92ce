// Loads the search when it is first asked for. Its file stands beside the program, or where the
// program's RUNPATH says (src/CMakeLists.txt).
#include <dlfcn.h>

#include "plan_module.hpp"

namespace keyhour::study {
namespace {

struct PlanModule {
    PlanSearch best = nullptr, any = nullptr;

    PlanModule() {
        void* const module = dlopen(plan_module_file, RTLD_NOW | RTLD_LOCAL);
        if (!module) return;
        best = reinterpret_cast<PlanSearch>(dlsym(module, best_plan_name));
        any = reinterpret_cast<PlanSearch>(dlsym(module, any_plan_name));
    }
};

/// Stays loaded to the program's end.
const PlanModule& plan_module() {
    static const PlanModule loaded;
    return loaded;
}

}  // namespace

bool can_plan() noexcept {
    return plan_module().best && plan_module().any;
}

PlanFound best_plan(const PlanProblem& problem, const PlanEffort& effort) {
    PlanFound found;
    plan_module().best(problem, effort, found);
    return found;
}

PlanFound any_plan(const PlanProblem& problem, const PlanEffort& effort) {
    PlanFound found;
    plan_module().any(problem, effort, found);
    return found;
}

}  // namespace keyhour::study
