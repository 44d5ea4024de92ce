// What is left of a problem without one of its rules, rule by rule as plan_problem.hpp words them.

#include "keyhour/study/plan_problem.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "keyhour/study/plan_judge.hpp"

using namespace keyhour::study;

namespace {

using Kind = PlanRule::Kind;

/// Two scenes of one set-up at two places over two days, with every rule there is.
PlanProblem problem() {
    PlanProblem p;
    p.days = {{{480, 1080}, {0, 1440}}, {{1920, 2520}, {1440, 2880}}};
    PlanScene scene;
    scene.set_up = 30;
    scene.length = 60;
    scene.light = {{600, 900}};
    scene.presence = {{500, 1000}};
    scene.set_up_group = 0;
    p.scenes = {scene, scene};
    p.scenes[1].place = 1;
    p.moves = {{0, 20}, {20, 0}};
    p.order = {{0, 1}};
    p.same_day = {{0, 1}};
    p.limits = {660, 360, 30, 780, 60};
    return p;
}

PlanProblem without(Kind kind, std::size_t index = 0) {
    const PlanProblem p = problem();
    auto rules = rules_of(p);
    const auto it = std::ranges::find(rules, PlanRule{kind, index});
    REQUIRE(it != rules.end());
    rules.erase(it);
    return with_rules(p, rules);
}

bool is_wide(const std::vector<MinuteSpan>& spans) {
    return spans.size() == 1 && spans[0].from < -100000 && spans[0].to > 100000;
}

}  // namespace

TEST_CASE("with all of its rules a problem is what it was", "[plan]") {
    const PlanProblem p = problem(), same = with_rules(p, rules_of(p));
    CHECK(same.days[0].hours == p.days[0].hours);
    CHECK(same.days[1].hours == p.days[1].hours);
    CHECK(same.scenes[0].light == p.scenes[0].light);
    CHECK(same.scenes[1].presence == p.scenes[1].presence);
    CHECK_FALSE(same.scenes[0].may_be_dropped);
    CHECK(same.scenes[0].stays_together);
    CHECK(same.order.size() == 1);
    CHECK(same.same_day.size() == 1);
    CHECK(same.moves == p.moves);
    CHECK(same.limits.rest == 660);
    CHECK(same.limits.break_after == 360);
    CHECK(same.limits.longest_day == 780);
}

TEST_CASE("each rule that is left out gives its own way and no other", "[plan]") {
    CHECK(without(Kind::kept, 1).scenes[1].may_be_dropped);
    CHECK_FALSE(without(Kind::kept, 1).scenes[0].may_be_dropped);
    CHECK(is_wide(without(Kind::light, 0).scenes[0].light));
    CHECK_FALSE(is_wide(without(Kind::light, 0).scenes[1].light));
    CHECK(is_wide(without(Kind::people, 1).scenes[1].presence));
    CHECK_FALSE(is_wide(without(Kind::people, 1).scenes[1].light));
    CHECK_FALSE(without(Kind::same_set_up).scenes[0].stays_together);
    CHECK(without(Kind::hours, 1).days[1].hours == MinuteSpan{1440, 2880});
    CHECK(without(Kind::hours, 1).days[0].hours == MinuteSpan{480, 1080});
    CHECK(without(Kind::order).order.empty());
    CHECK(without(Kind::order).same_day.size() == 1);
    CHECK(without(Kind::same_day).same_day.empty());
    CHECK(without(Kind::moves).moves == std::vector<std::vector<int>>{{0, 0}, {0, 0}});
    CHECK(without(Kind::rest).limits.rest == 0);
    CHECK(without(Kind::rest).limits.longest_day == 780);
    CHECK(without(Kind::breaks).limits.break_after > 100000);
    CHECK(without(Kind::longest_day).limits.longest_day > 100000);
}

TEST_CASE("a problem has a rule for each of its scenes, pairs, groups and days, and four of all",
          "[plan]") {
    // Two kept, two of light, two of people, one pair of either kind, one group, two days.
    const auto rules = rules_of(problem());
    CHECK(rules.size() == 2 + 2 + 2 + 1 + 1 + 1 + 2 + 4);
    for (std::size_t i = 0; i < rules.size(); ++i)
        CHECK(std::ranges::count(rules, rules[i]) == 1);
    PlanProblem bare = problem();
    bare.order.clear();
    bare.same_day.clear();
    CHECK(rules_of(bare).size() == rules.size() - 2);
}

TEST_CASE("people who are there on all days are no rule", "[plan]") {
    const auto rules = [](MinuteSpan there) {
        PlanProblem p = problem();
        p.scenes[0].presence = {there};
        return rules_of(p);
    };
    const auto names_people = [&](MinuteSpan there) {
        const auto all = rules(there);
        return std::ranges::find(all, PlanRule{Kind::people, 0}) != all.end();
    };
    CHECK_FALSE(names_people({0, 2880}));
    CHECK(names_people({1, 2880}));     // late on the first day
    CHECK(names_people({0, 2879}));     // gone early on the last
    CHECK(names_people({0, 1440}));     // the first day alone
    CHECK(names_people({1440, 2880}));  // the second alone
}

TEST_CASE("a break is counted from the hours' beginning of a day that is under way", "[plan]") {
    PlanProblem p = problem();
    p.days = {{{100, 1080}, {0, 1440}}};
    p.order.clear();
    p.same_day.clear();
    p.scenes.resize(1);
    p.scenes[0].light = p.scenes[0].presence = {{0, 1440}};
    p.under_way = PlanStart{0, -300};  // at work for 400 minutes when the hours begin
    const auto broken = [&](int set_up_from) {
        const Plan plan{{{0, 0, set_up_from, set_up_from + 30, set_up_from + 90, set_up_from + 30}},
                        {}};
        return broken_rules(p, plan);
    };
    CHECK(broken(130).empty());  // half an hour's break after 100
    CHECK(broken(110) == std::vector{PlanRule{Kind::breaks, 0}});
    CHECK(broken(100) == std::vector{PlanRule{Kind::breaks, 0}});
}
