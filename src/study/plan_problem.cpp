#include "keyhour/study/plan_problem.hpp"

#include <algorithm>
#include <limits>
#include <set>
#include <tuple>

namespace keyhour::study {
namespace {

constexpr int endless = 1'000'000;  // minutes: no shoot is so long

bool includes(const std::vector<PlanRule>& rules, PlanRule::Kind kind, std::size_t index = 0) {
    return std::ranges::find(rules, PlanRule{kind, index}) != rules.end();
}

/// Whom the scene needs is there on all days: no rule.
bool are_always_there(const PlanProblem& problem, const PlanScene& scene) {
    return std::ranges::all_of(problem.days, [&](const PlanDay& day) {
        return std::ranges::any_of(scene.presence, [&](const MinuteSpan& there) {
            return there.from <= day.whole.from && day.whole.to <= there.to;
        });
    });
}

}  // namespace

PlanWorth worth_of(const PlanProblem& problem, const Plan& plan) {
    const int enough = problem.limits.enough_slack;
    PlanWorth worth{static_cast<int>(plan.items.size()), enough, 0, enough, 0, 0};
    for (std::size_t i = 0; i < plan.items.size(); ++i) {
        const PlanItem& item = plan.items[i];
        const PlanScene& scene = problem.scenes[item.scene];
        const int slack = std::min(item.slack(), enough);
        worth.least = std::min(worth.least, slack);
        worth.sum += slack;
        if (!scene.repeatable) {
            worth.firm_least = std::min(worth.firm_least, slack);
            worth.firm_sum += slack;
        }
        std::optional<int> from;
        if (i > 0 && plan.items[i - 1].day == item.day)
            from = problem.scenes[plan.items[i - 1].scene].place;
        else if (i == 0 && item.day == 0 && problem.under_way)
            from = problem.under_way->place;
        if (from)
            worth.less_moving -=
                problem
                    .moves[static_cast<std::size_t>(*from)][static_cast<std::size_t>(scene.place)];
    }
    return worth;
}

std::vector<PlanSlot> slots_of(const PlanProblem& problem) {
    std::vector<PlanSlot> out;
    for (std::size_t i = 0; i < problem.scenes.size(); ++i) {
        const PlanScene& s = problem.scenes[i];
        for (std::size_t d = 0; d < problem.days.size(); ++d)
            for (const MinuteSpan& light : s.light)
                for (const MinuteSpan& there : s.presence) {
                    const MinuteSpan& hours = problem.days[d].hours;
                    const int earliest = std::max({light.from, there.from, hours.from});
                    const int end = std::min({light.to - s.over_run, there.to, hours.to});
                    if (end - s.length >= earliest) out.push_back({i, d, earliest, end - s.length});
                }
    }
    std::ranges::sort(out, {}, [](const PlanSlot& s) {
        return std::tuple{s.earliest, s.latest, s.scene, s.day};
    });
    return out;
}

std::vector<PlanRule> rules_of(const PlanProblem& problem) {
    using RuleKind = PlanRule::Kind;
    std::vector<PlanRule> out;
    std::set<int> groups;
    for (std::size_t i = 0; i < problem.scenes.size(); ++i)
        if (problem.scenes[i].set_up_group) groups.insert(*problem.scenes[i].set_up_group);
    for (std::size_t i = 0; i < problem.days.size(); ++i)
        out.push_back({RuleKind::hours, i});
    for (const RuleKind kind :
         {RuleKind::longest_day, RuleKind::breaks, RuleKind::rest, RuleKind::moves})
        out.push_back({kind, 0});
    for (const int group : groups)
        out.push_back({RuleKind::same_set_up, static_cast<std::size_t>(group)});
    for (std::size_t i = 0; i < problem.same_day.size(); ++i)
        out.push_back({RuleKind::same_day, i});
    for (std::size_t i = 0; i < problem.order.size(); ++i)
        out.push_back({RuleKind::order, i});
    for (std::size_t i = 0; i < problem.scenes.size(); ++i) {
        if (!are_always_there(problem, problem.scenes[i])) out.push_back({RuleKind::people, i});
        out.push_back({RuleKind::light, i});
        if (!problem.scenes[i].may_be_dropped) out.push_back({RuleKind::kept, i});
    }
    return out;
}

PlanProblem with_rules(const PlanProblem& problem, const std::vector<PlanRule>& rules) {
    using RuleKind = PlanRule::Kind;
    PlanProblem out = problem;
    const std::vector<MinuteSpan> always{{-endless, endless}};
    for (std::size_t i = 0; i < out.scenes.size(); ++i) {
        PlanScene& s = out.scenes[i];
        if (!includes(rules, RuleKind::light, i)) s.light = always;
        if (!includes(rules, RuleKind::people, i)) s.presence = always;
        if (!includes(rules, RuleKind::kept, i)) s.may_be_dropped = true;
        if (s.set_up_group &&
            !includes(rules, RuleKind::same_set_up, static_cast<std::size_t>(*s.set_up_group)))
            s.stays_together = false;
    }
    for (std::size_t i = 0; i < out.days.size(); ++i)
        if (!includes(rules, RuleKind::hours, i)) out.days[i].hours = out.days[i].whole;
    const auto keep = [&](std::vector<PlanPair>& pairs, RuleKind kind) {
        std::vector<PlanPair> kept;
        for (std::size_t i = 0; i < pairs.size(); ++i)
            if (includes(rules, kind, i)) kept.push_back(pairs[i]);
        pairs = std::move(kept);
    };
    keep(out.order, RuleKind::order);
    keep(out.same_day, RuleKind::same_day);
    if (!includes(rules, RuleKind::moves))
        for (auto& row : out.moves)
            std::ranges::fill(row, 0);
    if (!includes(rules, RuleKind::rest)) out.limits.rest = 0;
    if (!includes(rules, RuleKind::breaks)) out.limits.break_after = endless;
    if (!includes(rules, RuleKind::longest_day)) out.limits.longest_day = endless;
    return out;
}

}  // namespace keyhour::study
