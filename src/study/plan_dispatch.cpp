#include "plan_dispatch.hpp"

#include <random>

namespace keyhour::study {
namespace {

/// Where the crew is on its way through the plan.
struct Standing {
    int day = -1;  ///< of the last scene; -1: before the first
    int ended = 0, place = -1, call = 0, stretch = 0;
    std::size_t before = 0;  ///< its slot
};

/// A scene in a slot, as early as the rules let it.
struct Step {
    std::size_t slot = 0;
    int set_up_from = 0, from = 0, to = 0, call = 0, stretch = 0;
    double score = 0;
};

class Dispatch {
public:
    /// @param urge  of each scene: how much sooner it goes than its light alone would have it; what
    ///              finds no place has more of it the next time
    Dispatch(const PlanTables& tables, const PlanTaste& taste, double chance, unsigned int seed,
             std::vector<double>& urge)
        : t_{tables},
          p_{tables.problem},
          taste_{taste},
          chance_{chance},
          random_{seed},
          urge_{urge} {
        planned_day_.assign(p_.scenes.size(), -1);
        standing_.before = t_.slots.size();
        if (!p_.under_way) return;
        standing_.day = 0;
        standing_.ended = p_.days[0].hours.from;
        standing_.place = p_.under_way->place;
        standing_.call = standing_.stretch = p_.under_way->work_since;
    }

    std::optional<Plan> plan() {
        while (true) {
            std::vector<Step> steps = steps_from_here();
            std::ranges::sort(steps, {}, &Step::score);
            const auto next =
                std::ranges::find_if(steps, [&](const Step& s) { return leaves_all(s); });
            if (next == steps.end()) {
                if (!steps.empty()) urge_lost(steps.front());
                break;
            }
            take(*next);
        }
        constexpr double unplaced = 0.3;
        bool is_whole = true;
        for (std::size_t s = 0; s < p_.scenes.size(); ++s) {
            if (planned_day_[s] >= 0) continue;
            if (!p_.scenes[s].may_be_dropped) {
                is_whole = false;
                urge_[s] += unplaced;
            }
            out_.dropped.push_back(s);
        }
        if (!is_whole) return std::nullopt;
        return std::move(out_);
    }

private:
    [[nodiscard]] const PlanScene& scene_of(std::size_t slot) const {
        return p_.scenes[t_.slots[slot].scene];
    }
    [[nodiscard]] bool is_planned(std::size_t scene) const { return planned_day_[scene] >= 0; }

    std::vector<Step> steps_from_here() {
        std::vector<Step> out;
        for (std::size_t z = 0; z < t_.slots.size(); ++z) {
            const PlanSlot& slot = t_.slots[z];
            if (is_planned(slot.scene) || static_cast<int>(slot.day) < standing_.day) continue;
            if (!may_follow(slot)) continue;
            auto step = step_into(z);
            if (!step) continue;
            step->score =
                urgency(t_, taste_, std::max(standing_.ended, p_.days[slot.day].hours.from),
                        static_cast<int>(z), static_cast<int>(standing_.before)) +
                days_skipped(slot) + chance_ * share_(random_) - urge_[slot.scene];
            out.push_back(*step);
        }
        return out;
    }

    /// What can still be shot today goes before tomorrow's.
    [[nodiscard]] double days_skipped(const PlanSlot& slot) const {
        constexpr double night = 20;
        return night * (static_cast<int>(slot.day) - std::max(standing_.day, 0));
    }

    /// Order, same day and same set-up, as far as they are about this step.
    [[nodiscard]] bool may_follow(const PlanSlot& slot) const {
        for (const PlanPair& pair : p_.order)
            if (pair.second == slot.scene && !is_planned(pair.first)) return false;
        const int day = static_cast<int>(slot.day);
        for (const PlanPair& pair : p_.same_day) {
            const bool first = pair.first == slot.scene, second = pair.second == slot.scene;
            if (!first && !second) continue;
            const int other = planned_day_[first ? pair.second : pair.first];
            if (other >= 0 && other != day) return false;
        }
        return keeps_set_up_together(slot);
    }

    [[nodiscard]] bool keeps_set_up_together(const PlanSlot& slot) const {
        const auto group = p_.scenes[slot.scene].set_up_group;
        const bool goes_on = standing_.before < t_.slots.size() && group &&
                             scene_of(standing_.before).set_up_group == group &&
                             static_cast<int>(slot.day) == standing_.day;
        for (std::size_t s = 0; s < p_.scenes.size(); ++s) {
            const PlanScene& scene = p_.scenes[s];
            if (!scene.set_up_group || !scene.stays_together) continue;
            const bool is_mine = group && *group == *scene.set_up_group;
            // One of mine was shot before, but not right before.
            if (is_mine && is_planned(s) && !goes_on) return false;
            // Another's is under way and not all shot.
            const bool is_open = standing_.before < t_.slots.size() &&
                                 scene_of(standing_.before).set_up_group == scene.set_up_group;
            if (!is_mine && is_open && !is_planned(s) && !scene.may_be_dropped) return false;
        }
        return true;
    }

    [[nodiscard]] std::optional<Step> step_into(std::size_t z) const {
        const PlanSlot& slot = t_.slots[z];
        const PlanScene& scene = scene_of(z);
        const PlanLimits& limits = p_.limits;
        const bool same = static_cast<int>(slot.day) == standing_.day;
        const bool joins = same && standing_.before < t_.slots.size() && scene.set_up_group &&
                           scene_of(standing_.before).set_up_group == scene.set_up_group;
        const int set_up = joins ? 0 : scene.set_up;
        const int way = same ? p_.moves[static_cast<std::size_t>(standing_.place)]
                                       [static_cast<std::size_t>(scene.place)]
                             : 0;
        const bool fresh = standing_.day < 0;
        const int free =
            fresh ? p_.days[slot.day].hours.from : standing_.ended + (same ? way : limits.rest);
        Step out{z, 0, 0, 0, 0, 0, 0};
        int wait = 0;
        for (const bool pause : {false, true}) {
            out.set_up_from =
                std::max({free + wait, p_.days[slot.day].hours.from, slot.earliest - set_up});
            out.from = out.set_up_from + set_up;
            out.to = out.from + scene.length;
            const bool paused = same && out.set_up_from - free >= limits.break_length;
            out.call = same ? standing_.call : out.set_up_from;
            out.stretch = !same    ? out.set_up_from
                          : paused ? out.set_up_from - way
                                   : standing_.stretch;
            if (out.to - out.stretch <= limits.break_after || pause || !same) break;
            wait = limits.break_length;
        }
        if (out.from > slot.latest || out.to - out.stretch > limits.break_after ||
            out.to - out.call > limits.longest_day)
            return std::nullopt;
        return out;
    }

    /// Those that must be kept and have no slot any more after this step.
    [[nodiscard]] std::vector<std::size_t> lost_after(const Step& step) const {
        const PlanSlot& taken = t_.slots[step.slot];
        std::vector<bool> has(p_.scenes.size());
        for (std::size_t z = 0; z < t_.slots.size(); ++z) {
            const PlanSlot& slot = t_.slots[z];
            if (slot.day > taken.day || (slot.day == taken.day && slot.latest >= step.to))
                has[slot.scene] = true;
        }
        std::vector<std::size_t> out;
        for (std::size_t s = 0; s < p_.scenes.size(); ++s)
            if (!has[s] && s != taken.scene && !is_planned(s) && !p_.scenes[s].may_be_dropped)
                out.push_back(s);
        return out;
    }

    [[nodiscard]] bool leaves_all(const Step& step) const {
        const PlanSlot& taken = t_.slots[step.slot];
        return lost_after(step).empty() &&
               (static_cast<int>(taken.day) == standing_.day || leaves_the_day(taken));
    }

    void urge_lost(const Step& step) {
        constexpr double lost = 2;
        for (const std::size_t s : lost_after(step))
            urge_[s] += lost;
    }

    /// Nothing is left behind that belongs to the day that ends.
    [[nodiscard]] bool leaves_the_day(const PlanSlot& taken) const {
        const auto waits = [&](std::size_t done, std::size_t other) {
            return planned_day_[done] == standing_.day && !is_planned(other) &&
                   other != taken.scene && !p_.scenes[other].may_be_dropped;
        };
        return std::ranges::none_of(p_.same_day, [&](const PlanPair& pair) {
            return standing_.day >= 0 &&
                   (waits(pair.first, pair.second) || waits(pair.second, pair.first));
        });
    }

    void take(const Step& step) {
        const PlanSlot& slot = t_.slots[step.slot];
        planned_day_[slot.scene] = static_cast<int>(slot.day);
        standing_ = {static_cast<int>(slot.day),
                     step.to,
                     p_.scenes[slot.scene].place,
                     step.call,
                     step.stretch,
                     step.slot};
        out_.items.push_back(
            {slot.scene, slot.day, step.set_up_from, step.from, step.to, slot.latest});
    }

    const PlanTables& t_;
    const PlanProblem& p_;
    PlanTaste taste_;
    double chance_;
    std::minstd_rand random_;
    std::uniform_real_distribution<double> share_{0, 1};
    std::vector<double>& urge_;
    std::vector<int> planned_day_;  ///< of each scene; -1: not yet
    Standing standing_;
    Plan out_;
};

}  // namespace

std::optional<Plan> dispatched_plan(const PlanTables& tables, int rounds, int enough) {
    constexpr double most_chance = 6;
    constexpr int rounds_of_urge = 60;  // then all scenes begin anew
    std::vector<double> urge(tables.problem.scenes.size());
    std::optional<Plan> best;
    int made = 0;
    for (int round = 0; round < rounds && made < enough; ++round) {
        // The first of each taste goes without chance.
        const auto n = static_cast<int>(tastes.size());
        const double chance = round < n ? 0 : most_chance * (round % 7) / 7.0;
        if (round % rounds_of_urge == 0) std::ranges::fill(urge, 0.0);
        auto plan = Dispatch{tables, tastes[static_cast<std::size_t>(round / 3 % n)], chance,
                             static_cast<unsigned int>(round + 1), urge}
                        .plan();
        if (!plan) continue;
        ++made;
        if (!best || worth_of(tables.problem, *plan) > worth_of(tables.problem, *best))
            best = std::move(plan);
    }
    return best;
}

}  // namespace keyhour::study
