#include "keyhour/study/plan_part.hpp"

#include <algorithm>
#include <numeric>

namespace keyhour::study {
namespace {

using Moves = std::vector<std::vector<int>>;

/// By way of any place: a scene that is left out may have been on the way.
Moves shortest(Moves ways) {
    for (std::size_t by = 0; by < ways.size(); ++by)
        for (std::size_t a = 0; a < ways.size(); ++a)
            for (std::size_t b = 0; b < ways.size(); ++b)
                ways[a][b] = std::min(ways[a][b], ways[a][by] + ways[by][b]);
    return ways;
}

int least_set_up(const PlanProblem& problem, const PlanScene& scene) {
    int least = scene.set_up;
    if (!scene.set_up_group) return least;
    for (const PlanScene& other : problem.scenes)
        if (other.set_up_group == scene.set_up_group) least = std::min(least, other.set_up);
    return least;
}

/// Those of the pairs whose scenes are both in the part.
std::vector<PlanPair> pairs_in(const std::vector<PlanPair>& pairs,
                               const std::vector<std::size_t>& scenes,
                               std::vector<std::size_t>& kept) {
    std::vector<PlanPair> out;
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        const auto first = std::ranges::lower_bound(scenes, pairs[i].first);
        const auto second = std::ranges::lower_bound(scenes, pairs[i].second);
        if (first == scenes.end() || *first != pairs[i].first) continue;
        if (second == scenes.end() || *second != pairs[i].second) continue;
        out.push_back({static_cast<std::size_t>(first - scenes.begin()),
                       static_cast<std::size_t>(second - scenes.begin())});
        kept.push_back(i);
    }
    return out;
}

/// Minutes at which each scene may begin, all its slots together.
std::vector<int> choice_of(const PlanProblem& problem) {
    std::vector<int> out(problem.scenes.size());
    for (const PlanSlot& slot : slots_of(problem))
        out[slot.scene] += slot.latest - slot.earliest + 1;
    return out;
}

bool is_none(const PlanFound& found) {
    return !found.plan && found.is_proven;
}

/// Scene after scene more, the one with the least choice first, until there is no plan.
std::optional<std::vector<std::size_t>> first_without_plan(const PlanProblem& problem,
                                                           const PlanEffort& effort) {
    const std::vector<int> choice = choice_of(problem);
    std::vector<std::size_t> by_choice;
    for (std::size_t i = 0; i < problem.scenes.size(); ++i)
        if (!problem.scenes[i].may_be_dropped) by_choice.push_back(i);
    std::ranges::stable_sort(by_choice, {}, [&](std::size_t i) { return choice[i]; });
    // More scenes than could not be decided take longer and are not decided either.
    constexpr int patience = 2;
    std::vector<std::size_t> scenes;
    int undecided = 0;
    for (const std::size_t next : by_choice) {
        scenes.insert(std::ranges::lower_bound(scenes, next), next);
        const PlanFound found = any_plan(part_of(problem, scenes).loose, effort);
        if (is_none(found)) return scenes;
        if (!found.plan && ++undecided == patience) break;
    }
    return std::nullopt;
}

}  // namespace

PlanPart part_of(const PlanProblem& problem, std::vector<std::size_t> scenes) {
    PlanPart out;
    out.alone = problem;
    out.alone.scenes.clear();
    for (const std::size_t i : scenes)
        out.alone.scenes.push_back(problem.scenes[i]);
    out.alone.order = pairs_in(problem.order, scenes, out.order);
    out.alone.same_day = pairs_in(problem.same_day, scenes, out.same_day);
    out.loose = out.alone;
    out.loose.moves = shortest(problem.moves);
    int longest = 0;
    for (const auto& row : out.loose.moves)
        longest = std::max(longest, *std::ranges::max_element(row));
    out.loose.limits.break_after += longest;
    for (PlanScene& scene : out.loose.scenes)
        scene.set_up = least_set_up(problem, scene);
    out.scenes = std::move(scenes);
    return out;
}

PlanPart whole_of(const PlanProblem& problem) {
    const auto first = [](std::size_t count) {
        std::vector<std::size_t> out(count);
        std::iota(out.begin(), out.end(), std::size_t{0});
        return out;
    };
    return {first(problem.scenes.size()), problem, problem, first(problem.order.size()),
            first(problem.same_day.size())};
}

PlanRule of_whole(const PlanPart& part, const PlanRule& rule) {
    using RuleKind = PlanRule::Kind;
    switch (rule.kind) {
        case RuleKind::kept:
        case RuleKind::light:
        case RuleKind::people:
            return {rule.kind, part.scenes[rule.index]};
        case RuleKind::order:
            return {rule.kind, part.order[rule.index]};
        case RuleKind::same_day:
            return {rule.kind, part.same_day[rule.index]};
        default:
            return rule;
    }
}

std::optional<PlanPart> part_without_plan(const PlanProblem& problem, const PlanEffort& effort) {
    auto scenes = first_without_plan(problem, effort);
    if (!scenes) return std::nullopt;
    for (std::size_t i = 0; i < scenes->size();) {
        std::vector<std::size_t> fewer = *scenes;
        fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
        if (is_none(any_plan(part_of(problem, fewer).loose, effort)))
            scenes = std::move(fewer);
        else
            ++i;
    }
    return part_of(problem, *std::move(scenes));
}

}  // namespace keyhour::study
