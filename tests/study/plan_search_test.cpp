// The search against a walk through every plan there is, and every plan past the judge.
#include "keyhour/study/plan_search.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "keyhour/study/plan_conflict.hpp"
#include "keyhour/study/plan_judge.hpp"

namespace {

using namespace keyhour::study;

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

std::string words(const std::optional<PlanWorth>& w) {
    if (!w) return "none";
    return std::to_string(w->kept) + " " + std::to_string(w->firm_least) + " " +
           std::to_string(w->firm_sum) + " " + std::to_string(w->least) + " " +
           std::to_string(w->less_moving) + " " + std::to_string(w->sum);
}

}  // namespace

TEST_CASE("the plan's worth is that of the best of all plans, in 500 small shoots", "[plan]") {
    MadeShoots made{20260310};
    int with_plan = 0, without = 0;
    for (int i = 0; i < 500; ++i) {
        CAPTURE(i);
        const PlanProblem problem = made.next();
        const PlanFound found = best_plan(problem);
        REQUIRE(found.is_proven);
        const auto best = EveryPlan{problem}.best();
        std::optional<PlanWorth> worth;
        if (found.plan) {
            CHECK(broken_rules(problem, *found.plan).empty());
            worth = worth_of(problem, *found.plan);
        }
        REQUIRE(words(worth) == words(best));
        CHECK(any_plan(problem).plan.has_value() == best.has_value());
        ++(best ? with_plan : without);
    }
    CHECK(with_plan > 150);
    CHECK(without > 100);
}

TEST_CASE("a conflict is minimal: any one rule less, and there is a plan", "[plan]") {
    MadeShoots made{20260311};
    int conflicts = 0;
    std::size_t most = 0;
    for (int i = 0; conflicts < 100; ++i) {
        REQUIRE(i < 2000);
        const PlanProblem problem = made.next();
        if (any_plan(problem).plan) continue;
        CAPTURE(i);
        const PlanConflict conflict = conflict_of(problem);
        CHECK(conflict.is_minimal);
        REQUIRE(!conflict.rules.empty());
        CHECK_FALSE(EveryPlan{with_rules(problem, conflict.rules)}.exists());
        for (std::size_t r = 0; r < conflict.rules.size(); ++r) {
            std::vector<PlanRule> fewer = conflict.rules;
            fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(r));
            CHECK(EveryPlan{with_rules(problem, fewer)}.exists());
        }
        for (const Giving& giving : conflict.enough) {
            if (!giving.minutes) continue;
            CHECK(EveryPlan{loosened(problem, giving.rule, *giving.minutes)}.exists());
            CHECK_FALSE(EveryPlan{loosened(problem, giving.rule, *giving.minutes - 1)}.exists());
        }
        most = std::max(most, conflict.rules.size());
        ++conflicts;
    }
    CHECK(most >= 4);
}

TEST_CASE("the judge sees each rule that is broken", "[plan]") {
    using Kind = PlanRule::Kind;
    PlanProblem p;
    p.days = {{{480, 1200}, {0, 1440}}, {{1920, 2640}, {1440, 2880}}};
    p.moves = {{0, 20}, {20, 0}};
    p.limits = {660, 360, 30, 700, 60};
    const MinuteSpan always{0, 2880};
    for (const int place : {0, 1, 0})
        p.scenes.push_back({place, 10, 60, 5, false, false, {always}, {always}, {}});
    const Plan sound{
        {{0, 0, 480, 490, 550, 1140}, {1, 0, 570, 580, 640, 1140}, {2, 1, 1920, 1930, 1990, 2580}},
        {}};
    REQUIRE(broken_rules(p, sound).empty());
    const auto only = [&](const PlanProblem& problem, const Plan& plan, Kind kind) {
        const auto broken = broken_rules(problem, plan);
        return broken.size() == 1 && broken[0].kind == kind;
    };
    PlanProblem q = p;
    q.scenes[0].light = {{490, 1204}};  // ends with the over-run of the latest beginning
    CHECK(only(q, sound, Kind::light));
    q = p, q.scenes[1].presence = {{581, 2000}};
    CHECK(only(q, sound, Kind::people));
    q = p, q.order = {{1, 0}};
    CHECK(only(q, sound, Kind::order));
    q = p, q.same_day = {{0, 2}};
    CHECK(only(q, sound, Kind::same_day));
    q = p, q.moves[0][1] = 21;
    CHECK(only(q, sound, Kind::moves));
    q = p, q.limits.rest = 1920 - 640 + 1;
    CHECK(only(q, sound, Kind::rest));
    q = p, q.limits.break_after = 159;  // 08:00 to 10:40, 20 minutes of it on the way
    CHECK(only(q, sound, Kind::breaks));
    q = p, q.limits.longest_day = 159;
    CHECK(only(q, sound, Kind::longest_day));
    q = p, q.days[1].hours.from = 1921;
    CHECK(only(q, sound, Kind::hours));
    q = p, q.scenes[0].set_up_group = q.scenes[2].set_up_group = 0;
    CHECK(only(q, sound, Kind::same_set_up));
    Plan plan = sound;
    plan.items.pop_back();
    CHECK(only(p, plan, Kind::kept));
    plan.dropped = {2};
    CHECK(only(p, plan, Kind::kept));
    plan = sound, plan.items[1].from -= 1, plan.items[1].latest -= 1;
    CHECK(only(p, plan, Kind::kept));
}
