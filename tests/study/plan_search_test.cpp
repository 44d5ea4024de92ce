// The search against a walk through every plan there is, and every plan past the judge.
#include "keyhour/study/plan_search.hpp"

#include <catch2/catch.hpp>

#include "keyhour/study/plan_conflict.hpp"
#include "keyhour/study/plan_judge.hpp"
#include "support/made_shoots.hpp"

namespace {

using namespace keyhour::study;
using namespace keyhour::test;

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
        const auto found = conflict_of(problem, true);
        REQUIRE(found);
        const PlanConflict& conflict = *found;
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
