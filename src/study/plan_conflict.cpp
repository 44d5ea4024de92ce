#include "keyhour/study/plan_conflict.hpp"

#include <algorithm>
#include <utility>

#include "keyhour/study/plan_part.hpp"

namespace keyhour::study {
namespace {

using RuleKind = PlanRule::Kind;

bool has_plan(const PlanProblem& problem, const PlanEffort& effort) {
    return any_plan(problem, effort).plan.has_value();
}

/// What of a part can't hold together.
class ConflictSearch {
public:
    explicit ConflictSearch(const PlanEffort& effort) : effort_{effort} {}

    PlanConflict find(const PlanPart& part) const {
        std::vector<PlanRule> rules = rules_of(part.loose);
        // From the first to the last: what is a limit of the crew goes before what the scenes are.
        for (std::size_t i = 0; i < rules.size();) {
            std::vector<PlanRule> rest = without(rules, i);
            if (has_none(with_rules(part.loose, rest)))
                rules = std::move(rest);
            else
                ++i;
        }
        PlanConflict out;
        for (std::size_t i = 0; i < rules.size(); ++i) {
            out.rules.push_back(of_whole(part, rules[i]));
            out.is_minimal =
                out.is_minimal && has_plan(with_rules(part.alone, without(rules, i)), effort_);
        }
        return out;
    }

private:
    static std::vector<PlanRule> without(std::vector<PlanRule> rules, std::size_t i) {
        rules.erase(rules.begin() + static_cast<std::ptrdiff_t>(i));
        return rules;
    }

    /// Is it certain that there is no plan?
    bool has_none(const PlanProblem& problem) const {
        const PlanFound found = any_plan(problem, effort_);
        return !found.plan && found.is_proven;
    }

    PlanEffort effort_;
};

/// How little a rule must give.
class GivingSearch {
public:
    GivingSearch(const PlanProblem& problem, const PlanEffort& effort)
        : problem_{problem}, effort_{effort} {}

    void add_to(PlanConflict& conflict) const {
        for (const PlanRule& rule : conflict.rules) {
            std::vector<PlanRule> others = rules_of(problem_);
            std::erase(others, rule);
            const PlanFound without = any_plan(with_rules(problem_, others), effort_);
            if (const auto minutes = least(rule))
                conflict.enough.push_back({rule, minutes});
            else if (without.plan)
                conflict.enough.push_back({rule, {}});
            else if (!without.is_proven)
                conflict.enough_is_all = false;
        }
        std::ranges::stable_sort(conflict.enough, {}, [](const Giving& g) {
            return std::pair{!g.minutes, g.minutes};
        });
    }

private:
    /// Minutes that are enough; none if they are not, or the rule has no measure.
    std::optional<int> least(const PlanRule& rule) const {
        const std::optional<int> most = most_of(rule);
        if (!most || !has_plan(loosened(problem_, rule, *most), effort_)) return {};
        int enough = *most, little = 0;
        while (enough - little > 1) {
            const int middle = (enough + little) / 2;
            (has_plan(loosened(problem_, rule, middle), effort_) ? enough : little) = middle;
        }
        return enough;
    }

    /// The most minutes that a rule could give; none if it has no measure.
    std::optional<int> most_of(const PlanRule& rule) const {
        switch (rule.kind) {
            case RuleKind::kept:
                return problem_.scenes[rule.index].length - 1;
            case RuleKind::rest:
                return problem_.limits.rest;
            case RuleKind::hours:
                return problem_.days[rule.index].whole.to - problem_.days[rule.index].hours.to;
            case RuleKind::moves:
            case RuleKind::people:
            case RuleKind::breaks:
            case RuleKind::longest_day:
                return 1440;
            default:
                return std::nullopt;
        }
    }

    const PlanProblem& problem_;
    PlanEffort effort_;
};

/// Few scenes make a short search; of all only where it is known that there is no plan.
std::optional<PlanConflict> rules_against(const PlanProblem& problem, bool is_proven,
                                          const PlanEffort& effort) {
    const ConflictSearch search{effort};
    std::optional<PlanConflict> out;
    if (const auto part = part_without_plan(problem, effort)) out = search.find(*part);
    if (is_proven && !(out && out->is_minimal)) out = search.find(whole_of(problem));
    return out;
}

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

std::optional<PlanConflict> conflict_of(const PlanProblem& problem, bool is_proven,
                                        const PlanEffort& effort) {
    auto out = rules_against(problem, is_proven, effort);
    if (out) GivingSearch{problem, effort}.add_to(*out);
    return out;
}

}  // namespace keyhour::study
