#include "keyhour/study/plan_conflict.hpp"

#include <algorithm>

namespace keyhour::study {
namespace {

using RuleKind = PlanRule::Kind;

class ConflictSearch {
public:
    ConflictSearch(const PlanProblem& problem, const PlanEffort& effort)
        : problem_{problem}, effort_{effort} {}

    PlanConflict find() {
        PlanConflict out;
        std::vector<PlanRule> rules = rules_of(problem_);
        // From the first to the last: what is a limit of the crew goes before what the scenes are.
        for (std::size_t i = 0; i < rules.size();) {
            std::vector<PlanRule> rest = rules;
            rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(i));
            if (has_none(with_rules(problem_, rest)))
                rules = std::move(rest);
            else
                ++i;
        }
        out.rules = std::move(rules);
        out.is_minimal = !gave_up_;
        for (const PlanRule& rule : out.rules)
            if (const auto giving = give(rule)) out.enough.push_back(*giving);
        std::ranges::stable_sort(out.enough, {},
                                 [](const Giving& g) { return g.minutes.value_or(1'000'000); });
        return out;
    }

private:
    /// Is it certain that there is no plan?
    bool has_none(const PlanProblem& problem) {
        const PlanFound found = any_plan(problem, effort_);
        if (!found.plan && !found.is_proven) gave_up_ = true;
        return !found.plan && found.is_proven;
    }

    bool has_plan(const PlanProblem& problem) const {
        return any_plan(problem, effort_).plan.has_value();
    }

    /// The most minutes that a rule could give.
    int most(const PlanRule& rule) const {
        switch (rule.kind) {
            case RuleKind::kept:
                return problem_.scenes[rule.index].length - 1;
            case RuleKind::rest:
                return problem_.limits.rest;
            case RuleKind::moves:
                return 1440;
            case RuleKind::hours:
                return problem_.days[rule.index].whole.to - problem_.days[rule.index].hours.to;
            case RuleKind::people:
            case RuleKind::breaks:
            case RuleKind::longest_day:
                return 1440;
            default:
                return 0;
        }
    }

    std::optional<Giving> give(const PlanRule& rule) const {
        int enough = most(rule), little = 0;
        if (enough > 0 && has_plan(loosened(problem_, rule, enough))) {
            while (enough - little > 1) {
                const int middle = (enough + little) / 2;
                (has_plan(loosened(problem_, rule, middle)) ? enough : little) = middle;
            }
            return Giving{rule, enough};
        }
        std::vector<PlanRule> others = rules_of(problem_);
        std::erase(others, rule);
        if (has_plan(with_rules(problem_, others))) return Giving{rule, {}};
        return std::nullopt;
    }

    const PlanProblem& problem_;
    PlanEffort effort_;
    bool gave_up_ = false;
};

}  // namespace

PlanProblem loosened(const PlanProblem& problem, const PlanRule& rule, int minutes) {
    PlanProblem out = problem;
    switch (rule.kind) {
        case RuleKind::kept:
            out.scenes[rule.index].length -= minutes;
            break;
        case RuleKind::people:
            for (MinuteSpan& there : out.scenes[rule.index].presence)
                there.to += minutes;
            break;
        case RuleKind::hours:
            out.days[rule.index].hours.to += minutes;
            break;
        case RuleKind::moves:
            for (auto& row : out.moves)
                for (int& way : row)
                    way = std::max(0, way - minutes);
            break;
        case RuleKind::rest:
            out.limits.rest -= minutes;
            break;
        case RuleKind::breaks:
            out.limits.break_after += minutes;
            break;
        case RuleKind::longest_day:
            out.limits.longest_day += minutes;
            break;
        default:
            break;
    }
    return out;
}

PlanConflict conflict_of(const PlanProblem& problem, const PlanEffort& effort) {
    return ConflictSearch{problem, effort}.find();
}

}  // namespace keyhour::study
