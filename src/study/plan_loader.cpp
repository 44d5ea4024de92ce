// Loads the search when it is first asked for. Its file stands beside the program, in the folder
// above (tests) or in ../lib/keyhour (installed). By path: a sanitizer's dlopen knows no RUNPATH.
#include <dlfcn.h>

#include <filesystem>

#include "plan_module.hpp"

namespace keyhour::study {
namespace {

void* open_module() {
    std::error_code none;
    const auto program = std::filesystem::read_symlink("/proc/self/exe", none);
    for (const char* folder : {".", "..", "../lib/keyhour"}) {
        const auto file = program.parent_path() / folder / plan_module_file;
        if (void* const module = dlopen(file.c_str(), RTLD_NOW | RTLD_LOCAL)) return module;
    }
    return dlopen(plan_module_file, RTLD_NOW | RTLD_LOCAL);
}

struct PlanModule {
    PlanSearch best = nullptr, any = nullptr;

    PlanModule() {
        void* const module = open_module();
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
    if (can_plan()) plan_module().best(problem, effort, found);
    return found;
}

PlanFound any_plan(const PlanProblem& problem, const PlanEffort& effort) {
    PlanFound found;
    if (can_plan()) plan_module().any(problem, effort, found);
    return found;
}

}  // namespace keyhour::study
