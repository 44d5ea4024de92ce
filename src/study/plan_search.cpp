// The one file that is compiled with the constraint library (Gecode); it is the module that
// plan_loader.cpp loads. The model stands in plan_model.hpp.
#include "keyhour/study/plan_search.hpp"

#include <gecode/search.hh>
#include <memory>

#include "plan_dispatch.hpp"
#include "plan_model.hpp"
#include "plan_tables.hpp"

namespace keyhour::study {
namespace {

using Model = PlanModel;

Plan with_nothing(const PlanProblem& problem) {
    Plan plan;
    for (std::size_t i = 0; i < problem.scenes.size(); ++i)
        plan.dropped.push_back(i);
    return plan;
}

/// What propagation alone decides: nothing can be planned, or nothing is left to plan.
std::optional<PlanFound> without_search(const PlanTables& t) {
    if (is_hopeless(t)) return PlanFound{{}, true};
    if (t.slots.empty()) return PlanFound{with_nothing(t.problem), true};
    return std::nullopt;
}

using Found = std::unique_ptr<Model>;

/// Goes on from a best plan: searches near it, again and again near what is better.
Found polished(Model& root, Found best, unsigned long nodes) {
    constexpr unsigned long at_once = 400;
    unsigned int round = 0;
    for (unsigned long used = 0; used < nodes; ++round) {
        const Found near{static_cast<Model*>(root.clone())};
        near->constrain(*best);
        near->stay_near(*best, round);
        Gecode::Search::NodeStop stop{at_once};
        Gecode::Search::Options options;
        options.stop = &stop;
        Gecode::BAB<Model> search{near.get(), options};
        while (Model* found = search.next())
            best.reset(found);
        used += search.statistics().node + 1;
    }
    return best;
}

/// The dispatched plan as the model has it; null where the model finds a rule broken, or no plan
/// was made.
Found seeded(Model& root, const PlanTables& tables, int rounds, int enough) {
    const auto plan = dispatched_plan(tables, rounds, enough);
    if (!plan) return nullptr;
    const Found fixed{static_cast<Model*>(root.clone())};
    fixed->follow(*plan);
    constexpr unsigned long few = 200;
    Gecode::Search::NodeStop stop{few};
    Gecode::Search::Options options;
    options.stop = &stop;
    Gecode::DFS<Model> search{fixed.get(), options};
    return Found{search.next()};
}

PlanFound found_of(const Found& best, bool is_proven) {
    return {best ? std::optional{best->plan()} : std::nullopt, is_proven};
}

PlanFound first_of(const PlanProblem& problem, const PlanEffort& effort) {
    const PlanTables tables{problem};
    if (const auto found = without_search(tables)) return *found;
    for (const PlanTaste& taste : tastes) {
        Model root{tables, false, taste};
        if (root.status() == Gecode::SS_FAILED) return {{}, true};
        if (&taste == tastes.data())
            if (const Found found = seeded(root, tables, effort.dispatched, 1))
                return {found->plan(), true};
        Gecode::Search::NodeStop stop{&taste == &tastes.back() ? effort.nodes : effort.first};
        Gecode::Search::Options options;
        options.stop = &stop;
        Gecode::DFS<Model> search{&root, options};
        if (const Found found{search.next()}) return {found->plan(), true};
        if (!search.stopped()) return {{}, true};
    }
    return {};
}

PlanFound best_of(const PlanProblem& problem, const PlanEffort& effort) {
    const PlanTables tables{problem};
    if (const auto found = without_search(tables)) return *found;
    Found best;
    for (const PlanTaste& taste : tastes) {
        Model root{tables, true, taste};
        if (root.status() == Gecode::SS_FAILED) return found_of(best, true);
        if (!best) {
            best = seeded(root, tables, effort.dispatched, effort.dispatched / 8);
            if (best) root.constrain(*best);
        }
        Gecode::Search::NodeStop stop{effort.first};
        Gecode::Search::Options options;
        options.stop = &stop;
        Gecode::BAB<Model> search{&root, options};
        const auto go_on = [&] {
            while (Model* found = search.next())
                best.reset(found);
            return search.stopped();
        };
        if (!go_on()) return found_of(best, true);
        const bool is_last = &taste == &tastes.back();
        if (!best && !is_last) continue;
        // As far as the effort allows; the search takes up where it stopped.
        stop.limit(effort.nodes);
        if (!go_on()) return found_of(best, true);
        if (best) best = polished(root, std::move(best), effort.polish);
        break;
    }
    return found_of(best, false);
}

}  // namespace

}  // namespace keyhour::study

#define KEYHOUR_SHOWN extern "C" __attribute__((visibility("default")))

using namespace keyhour::study;

/// @name As plan_module.hpp names them.
KEYHOUR_SHOWN void keyhour_best_plan(const PlanProblem& problem, const PlanEffort& effort,
                                     PlanFound& found) {
    found = best_of(problem, effort);
}
KEYHOUR_SHOWN void keyhour_any_plan(const PlanProblem& problem, const PlanEffort& effort,
                                    PlanFound& found) {
    found = first_of(problem, effort);
}
