#pragma once
// Small made shoots, and a walk through every plan that there is of one.

#include <algorithm>
#include <optional>
#include <random>
#include <vector>

#include "keyhour/study/plan_judge.hpp"
#include "keyhour/study/plan_problem.hpp"

namespace keyhour::test {

using study::MinuteSpan;
using study::Plan;
using study::PlanProblem;
using study::PlanScene;
using study::PlanStart;
using study::PlanWorth;

/// Small made shoots: two days of some minutes, three or four scenes.
class MadeShoots {
public:
    explicit MadeShoots(unsigned seed) : random_{seed} {}

    PlanProblem next() {
        PlanProblem p;
        const int day = any(8, 13), places = any(1, 2);
        p.days = {{{0, day}, {-5, day + 5}}, {{day + 10, 2 * day + 10}, {day + 5, 2 * day + 20}}};
        if (chance(0.3)) p.days.pop_back();
        const int way = any(1, 3);
        p.moves.assign(static_cast<std::size_t>(places),
                       std::vector<int>(static_cast<std::size_t>(places), way));
        for (int i = 0; i < places; ++i)
            p.moves[static_cast<std::size_t>(i)][static_cast<std::size_t>(i)] = 0;
        p.limits = {any(8, 14), any(4, 9), any(1, 2), any(6, 13), any(0, 3)};
        const int scenes = any(2, 4);
        for (int i = 0; i < scenes; ++i)
            p.scenes.push_back(scene(p, places));
        for (int i = 0; i + 1 < scenes; ++i) {
            if (chance(0.2)) p.order.push_back({index(i), index(i + 1)});
            if (chance(0.15)) p.same_day.push_back({index(i), index(scenes - 1)});
        }
        if (chance(0.3)) {
            p.under_way = PlanStart{any(0, places - 1), any(-3, 0)};
            p.days[0].whole.from = p.days[0].hours.from;
        }
        return p;
    }

private:
    int any(int least, int most) {
        return std::uniform_int_distribution<int>{least, most}(random_);
    }
    bool chance(double share) { return std::bernoulli_distribution{share}(random_); }
    static std::size_t index(int i) { return static_cast<std::size_t>(i); }

    PlanScene scene(const PlanProblem& p, int places) {
        PlanScene s;
        s.place = any(0, places - 1);
        s.set_up = any(0, 2);
        s.length = any(1, 4);
        s.over_run = chance(0.2) ? 1 : 0;
        s.repeatable = chance(0.6);
        s.may_be_dropped = chance(0.3);
        if (chance(0.3)) s.set_up_group = 0;
        const int end = p.days.back().hours.to;
        for (int k = any(1, 2); k > 0; --k) {
            const int from = any(0, end - 3);
            s.light.push_back({from, from + any(3, 9)});
        }
        s.presence = {chance(0.7) ? MinuteSpan{-50, 200} : MinuteSpan{any(0, 3), any(8, end)}};
        return s;
    }

    std::mt19937 random_;
};

/// Every order, every day, every minute: the worth of the best plan that the judge lets pass.
class EveryPlan {
public:
    explicit EveryPlan(const PlanProblem& problem) : problem_{problem} {}

    std::optional<PlanWorth> best() {
        extend(std::vector<bool>(problem_.scenes.size()));
        return best_;
    }
    /// Is there any?
    bool exists() {
        stops_at_first_ = true;
        return best().has_value();
    }

private:
    void extend(const std::vector<bool>& used) {
        finish(used);
        if (stops_at_first_ && best_) return;
        for (std::size_t s = 0; s < used.size(); ++s) {
            if (used[s]) continue;
            std::vector<bool> now = used;
            now[s] = true;
            for (std::size_t d = 0; d < problem_.days.size(); ++d)
                place(s, d, now);
        }
    }

    void place(std::size_t s, std::size_t d, const std::vector<bool>& used) {
        const PlanScene& scene = problem_.scenes[s];
        const MinuteSpan hours = problem_.days[d].hours;
        const int after = plan_.items.empty() ? hours.from : plan_.items.back().to;
        const bool joins =
            !plan_.items.empty() && plan_.items.back().day == d && scene.set_up_group &&
            problem_.scenes[plan_.items.back().scene].set_up_group == scene.set_up_group;
        for (int begin = std::max(after, hours.from); begin + scene.length <= hours.to; ++begin) {
            const int from = begin + (joins ? 0 : scene.set_up), to = from + scene.length;
            // The latest beginning in each span of light in which it lies.
            for (const MinuteSpan& light : scene.light) {
                if (from < light.from || to + scene.over_run > light.to) continue;
                const int end =
                    std::min({light.to - scene.over_run, scene.presence[0].to, hours.to});
                plan_.items.push_back({s, d, begin, from, to, end - scene.length});
                extend(used);
                plan_.items.pop_back();
            }
        }
    }

    void finish(const std::vector<bool>& used) {
        plan_.dropped.clear();
        for (std::size_t s = 0; s < used.size(); ++s)
            if (!used[s]) {
                if (!problem_.scenes[s].may_be_dropped) return;
                plan_.dropped.push_back(s);
            }
        if (!broken_rules(problem_, plan_).empty()) return;
        const PlanWorth worth = worth_of(problem_, plan_);
        if (!best_ || worth > *best_) best_ = worth;
    }

    const PlanProblem& problem_;
    Plan plan_;
    std::optional<PlanWorth> best_;
    bool stops_at_first_ = false;
};

}  // namespace keyhour::test
