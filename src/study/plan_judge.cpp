#include "keyhour/study/plan_judge.hpp"

#include <algorithm>

namespace keyhour::study {
namespace {

using RuleKind = PlanRule::Kind;

class Judge {
public:
    Judge(const PlanProblem& problem, const Plan& plan)
        : problem_{problem}, plan_{plan}, place_(problem.scenes.size()) {}

    std::vector<PlanRule> judge() {
        count();
        for (std::size_t i = 0; i < plan_.items.size(); ++i)
            item(i);
        days();
        pairs();
        return std::move(broken_);
    }

private:
    void breaks(RuleKind kind, std::size_t index = 0) {
        if (std::ranges::find(broken_, PlanRule{kind, index}) == broken_.end())
            broken_.push_back({kind, index});
    }
    const PlanScene& scene(std::size_t item) const {
        return problem_.scenes[plan_.items[item].scene];
    }
    int move(int from, int to) const {
        return problem_.moves[static_cast<std::size_t>(from)][static_cast<std::size_t>(to)];
    }

    /// Every scene once: planned, or dropped where that is allowed.
    void count() {
        std::vector<int> times(problem_.scenes.size());
        for (std::size_t i = 0; i < plan_.items.size(); ++i) {
            ++times[plan_.items[i].scene];
            place_[plan_.items[i].scene] = i;
        }
        for (const std::size_t s : plan_.dropped) {
            ++times[s];
            place_[s].reset();
            if (!problem_.scenes[s].may_be_dropped) breaks(RuleKind::kept, s);
        }
        for (std::size_t s = 0; s < times.size(); ++s)
            if (times[s] != 1) breaks(RuleKind::kept, s);
    }

    bool follows_in_set_up(std::size_t i) const {
        return i > 0 && plan_.items[i - 1].day == plan_.items[i].day && scene(i).set_up_group &&
               scene(i - 1).set_up_group == scene(i).set_up_group;
    }

    static bool holds(const std::vector<MinuteSpan>& spans, int from, int to) {
        return std::ranges::any_of(
            spans, [&](const MinuteSpan& s) { return s.from <= from && to <= s.to; });
    }

    void item(std::size_t i) {
        const PlanItem& it = plan_.items[i];
        const PlanScene& s = scene(i);
        if (it.set_up_from + (follows_in_set_up(i) ? 0 : s.set_up) != it.from ||
            it.from + s.length != it.to || it.latest < it.from)
            breaks(RuleKind::kept, it.scene);
        // At any minute up to the latest the light and the people must hold.
        for (const int late : {0, it.latest - it.from}) {
            if (!holds(s.light, it.from + late, it.to + late + s.over_run))
                breaks(RuleKind::light, it.scene);
            if (!holds(s.presence, it.from + late, it.to + late))
                breaks(RuleKind::people, it.scene);
            if (it.to + late > problem_.days[it.day].hours.to) breaks(RuleKind::hours, it.day);
        }
        if (it.set_up_from < problem_.days[it.day].hours.from) breaks(RuleKind::hours, it.day);
    }

    /// The crew after an item, or where a day that is under way finds it.
    struct Crew {
        std::size_t day;
        int call, stretch, free;  ///< the day's beginning, that of work without a break, the end
        int place;
    };

    /// Along the items: moves, rest, breaks, the day's length.
    void days() {
        const PlanLimits& limits = problem_.limits;
        std::optional<Crew> crew;
        if (const auto& now = problem_.under_way)
            crew =
                Crew{0, now->work_since, now->work_since, problem_.days[0].hours.from, now->place};
        for (const PlanItem& it : plan_.items) {
            const int place = problem_.scenes[it.scene].place;
            int call = it.set_up_from, stretch = it.set_up_from;
            if (crew && it.day == crew->day) {
                const int way = move(crew->place, place);
                const int idle = it.set_up_from - crew->free - way;
                if (idle < 0) breaks(RuleKind::moves);
                call = crew->call;
                stretch = idle >= limits.break_length ? it.set_up_from - way : crew->stretch;
            } else if (crew) {
                if (it.day < crew->day || it.set_up_from - crew->free < limits.rest)
                    breaks(RuleKind::rest);
            }
            if (it.to - stretch > limits.break_after) breaks(RuleKind::breaks);
            if (it.to - call > limits.longest_day) breaks(RuleKind::longest_day);
            crew = Crew{it.day, call, stretch, it.to, place};
        }
    }

    void pairs() {
        for (std::size_t k = 0; k < problem_.order.size(); ++k) {
            const auto a = place_[problem_.order[k].first], b = place_[problem_.order[k].second];
            if (a && b && plan_.items[*a].to > plan_.items[*b].set_up_from)
                breaks(RuleKind::order, k);
        }
        for (std::size_t k = 0; k < problem_.same_day.size(); ++k) {
            const auto a = place_[problem_.same_day[k].first],
                       b = place_[problem_.same_day[k].second];
            if (a && b && plan_.items[*a].day != plan_.items[*b].day) breaks(RuleKind::same_day, k);
        }
        // Of one set-up: a day's run without another scene in it.
        for (std::size_t i = 0; i < plan_.items.size(); ++i)
            for (std::size_t j = i + 1; j < plan_.items.size(); ++j) {
                const auto group = scene(i).set_up_group;
                if (!group || scene(j).set_up_group != group || !scene(i).stays_together) continue;
                for (std::size_t k = i; k <= j; ++k)
                    if (scene(k).set_up_group != group || plan_.items[k].day != plan_.items[i].day)
                        breaks(RuleKind::same_set_up, static_cast<std::size_t>(*group));
            }
    }

    const PlanProblem& problem_;
    const Plan& plan_;
    std::vector<std::optional<std::size_t>> place_;  ///< of each scene among the items
    std::vector<PlanRule> broken_;
};

}  // namespace

std::vector<PlanRule> broken_rules(const PlanProblem& problem, const Plan& plan) {
    return Judge{problem, plan}.judge();
}

}  // namespace keyhour::study
