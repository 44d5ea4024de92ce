#pragma once
/// @file
/// A problem as the arrays that the search looks things up in, and what it tries first.

#include <algorithm>
#include <array>
#include <utility>
#include <vector>

#include "keyhour/study/plan_problem.hpp"

namespace keyhour::study {

/// What makes a slot urgent: minutes of waiting, and of being able to wait, that weigh as much;
/// what a further chance on another day weighs. Tried on made shoots of 40 scenes; when one finds
/// no plan soon, the next does.
struct PlanTaste {
    double waiting = 30, can_wait = 120, chance = 0.7;
};
inline constexpr std::array tastes{PlanTaste{}, PlanTaste{15, 120, 0.7}, PlanTaste{60, 60, 1.5},
                                   PlanTaste{30, 400, 0.3}, PlanTaste{20, 60, 0}};

/// The problem as arrays. After the last scene stands an empty one, after the last day an empty
/// one: positions that no scene takes hold these.
struct PlanTables {
    explicit PlanTables(const PlanProblem& p)
        : problem{p},
          slots{slots_of(p)},
          scenes{static_cast<int>(p.scenes.size())},
          places{static_cast<int>(p.moves.size())},
          chances(p.scenes.size()) {
        const int after = p.days.back().hours.to + p.limits.rest + 1;
        end = after;
        first = p.days.front().hours.from;
        for (const PlanSlot& s : slots) {
            const PlanScene& scene = p.scenes[s.scene];
            scene_of.push_back(static_cast<int>(s.scene));
            day_of.push_back(static_cast<int>(s.day));
            earliest.push_back(s.earliest);
            latest.push_back(s.latest);
            length.push_back(scene.length);
            set_up.push_back(scene.set_up);
            place.push_back(scene.place);
            ++chances[s.scene];
            group.push_back(scene.set_up_group ? scenes + 1 + *scene.set_up_group
                                               : static_cast<int>(s.scene));
        }
        for (auto [list, value] : {std::pair{&scene_of, scenes},
                                   {&day_of, static_cast<int>(p.days.size())},
                                   {&earliest, end},
                                   {&latest, end},
                                   {&length, 0},
                                   {&set_up, 0},
                                   {&place, 0},
                                   {&group, scenes}})
            list->push_back(value);
        for (const auto& row : p.moves)
            for (const int minutes : row)
                moves.push_back(minutes);
    }

    const PlanProblem& problem;
    std::vector<PlanSlot> slots;
    int scenes, places, first = 0, end = 0;
    // By slot:
    std::vector<int> scene_of, day_of, earliest, latest, length, set_up, place, group;
    std::vector<int> moves;
    std::vector<int> chances;  ///< of each scene: slots

    /// In which a planned scene stands; the empty one if there is none such.
    [[nodiscard]] int slot_of(const PlanItem& item) const {
        const auto at = std::ranges::find_if(slots, [&](const PlanSlot& s) {
            return s.scene == item.scene && s.day == item.day && s.earliest <= item.from &&
                   item.from <= s.latest && s.latest == item.latest;
        });
        return static_cast<int>(at - slots.begin());
    }
    [[nodiscard]] int empty_slot() const { return static_cast<int>(slots.size()); }
    [[nodiscard]] int days() const { return static_cast<int>(problem.days.size()); }
};

/// Waiting and how long it could wait, in a common coin; less is sooner.
/// @param now     from when the crew is free
/// @param before  the slot that ends then; the empty one: none
[[nodiscard]] inline double urgency(const PlanTables& t, const PlanTaste& taste, int now, int slot,
                                    int before) {
    if (slot == t.empty_slot()) return 1e6;
    const auto z = static_cast<std::size_t>(slot), y = static_cast<std::size_t>(before);
    const PlanScene& scene = t.problem.scenes[t.slots[z].scene];
    const bool moves = before != t.empty_slot() && t.day_of[y] == t.day_of[z];
    const int way = moves ? t.problem.moves[static_cast<std::size_t>(t.place[y])]
                                           [static_cast<std::size_t>(t.place[z])]
                          : 0;
    const int start = std::max(now + scene.set_up, t.earliest[z]);
    const double waiting = start - scene.set_up - now + way;
    const double can_wait = std::min(t.latest[z] - start, 600);
    const double score = waiting / taste.waiting + can_wait / taste.can_wait +
                         taste.chance * (t.chances[t.slots[z].scene] - 1) +
                         (scene.may_be_dropped ? 1 : 0) - (scene.repeatable ? 0 : 1);
    return start > t.latest[z] ? 1e5 + score : score;
}

/// A scene that must be kept and has no time at all leaves nothing to look for.
[[nodiscard]] inline bool is_hopeless(const PlanTables& t) {
    std::vector<bool> has(t.problem.scenes.size());
    for (const PlanSlot& s : t.slots)
        has[s.scene] = true;
    for (std::size_t i = 0; i < has.size(); ++i)
        if (!has[i] && !t.problem.scenes[i].may_be_dropped) return true;
    return false;
}

}  // namespace keyhour::study
