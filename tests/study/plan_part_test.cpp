// A part of a problem against a walk through every plan, and conflicts where the search can't tell.
#include "keyhour/study/plan_part.hpp"

#include <catch2/catch.hpp>

#include "keyhour/study/plan_conflict.hpp"
#include "support/made_shoots.hpp"

namespace {

using namespace keyhour::study;
using namespace keyhour::test;
using Kind = PlanRule::Kind;

/// As made, with a place more that is a short cut, so that a scene there may help.
PlanProblem with_short_cut(PlanProblem p) {
    p.moves = {{0, 5, 1}, {5, 0, 1}, {1, 1, 0}};
    for (std::size_t i = 0; i < p.scenes.size(); ++i)
        p.scenes[i].place = static_cast<int>(i % 3);
    return p;
}

/// Ten scenes that go anywhere in two long days, and three that want the same half hour.
PlanProblem crowded() {
    PlanProblem p;
    p.days = {{{0, 600}, {-100, 700}}, {{1440, 2040}, {1340, 2140}}};
    p.moves = {{0}};
    p.limits = {600, 600, 30, 700, 60};
    for (int i = 0; i < 13; ++i) {
        PlanScene s;
        s.set_up = 5;
        s.length = 30;
        s.light = {{-100, 3000}};
        s.presence = {{-100, 3000}};
        p.scenes.push_back(s);
    }
    for (const std::size_t i : {3U, 7U, 9U})
        p.scenes[i].light = {{300, 340}, {1740, 1780}};
    return p;
}

/// Scenes on one day of so many minutes that has no hours beyond them.
PlanProblem on_one_day(int minutes, const std::vector<int>& lengths) {
    PlanProblem p;
    p.days = {{{0, minutes}, {0, minutes}}};
    p.moves = {{0}};
    p.limits = {0, 100000, 30, 100000, 60};
    for (const int length : lengths) {
        PlanScene s;
        s.length = length;
        s.light = s.presence = {{0, 100000}};
        p.scenes.push_back(s);
    }
    return p;
}

/// The minutes that such a rule must give; -1: it must go, -2: that is not enough either.
int gives(const PlanProblem& p, Kind kind) {
    const auto conflict = conflict_of(p, true);
    REQUIRE(conflict);
    for (const Giving& g : conflict->enough)
        if (g.rule.kind == kind) return g.minutes.value_or(-1);
    return -2;
}

}  // namespace

// By hand: each lacks just so many minutes.
TEST_CASE("a rule gives as many minutes as are lacking, a day at most", "[plan]") {
    for (const int lacking : {1, 2, 59, 1439, 1440, 1441}) {
        CAPTURE(lacking);
        const int given = lacking <= 1440 ? lacking : -1;
        PlanProblem late = on_one_day(5000, {60});
        late.scenes[0].light = {{3000, 3100}};
        late.scenes[0].presence = {{0, 3060 - lacking}};
        CHECK(gives(late, Kind::people) == given);
        PlanProblem long_one = on_one_day(2000, {1500});
        long_one.limits.break_after = 1500 - lacking;
        CHECK(gives(long_one, Kind::breaks) == given);
        long_one.limits.break_after = 2000;
        long_one.limits.longest_day = 1500 - lacking;
        CHECK(gives(long_one, Kind::longest_day) == given);
        PlanProblem far = on_one_day(80, {10, 10});
        far.scenes[1].place = 1;
        far.moves = {{0, 60 + lacking}, {60 + lacking, 0}};
        CHECK(gives(far, Kind::moves) == given);
    }
}

TEST_CASE("a scene gives all but its last minute, a day the hours to its end, a rest all of it",
          "[plan]") {
    PlanProblem tight = on_one_day(1, {30});
    CHECK(gives(tight, Kind::kept) == 29);
    CHECK(gives(tight, Kind::hours) == -2);
    tight.days[0].whole.to = 29;  // with the hours of all day it lacks one minute still
    CHECK(gives(tight, Kind::hours) == -2);
    CHECK(gives(tight, Kind::kept) == 29);
    tight.days[0].whole.to = 30;
    CHECK(gives(tight, Kind::hours) == 29);
    tight.days[0].whole.to = 50;
    CHECK(gives(tight, Kind::hours) == 29);
    tight.days[0] = {{0, 0}, {0, 0}};
    CHECK(gives(tight, Kind::kept) == -1);
    PlanProblem restless = on_one_day(100, {100, 100});
    restless.days.push_back({{100, 200}, {100, 200}});
    restless.limits.rest = 5;
    CHECK(gives(restless, Kind::rest) == 5);
    CHECK(gives(restless, Kind::light) == -2);
}

// By hand: minutes at which it may begin, both ends counted.
TEST_CASE("of scenes that can't be shot alone the one with the least choice is named", "[plan]") {
    PlanProblem p = on_one_day(1000, {20, 20});
    p.limits.break_after = 10;  // neither can
    const auto named = [&](std::vector<MinuteSpan> first, std::vector<MinuteSpan> second) {
        p.scenes[0].light = std::move(first);
        p.scenes[1].light = std::move(second);
        const auto part = part_without_plan(p);
        REQUIRE(part);
        REQUIRE(part->scenes.size() == 1);
        return part->scenes[0];
    };
    CHECK(named({{100, 122}}, {{100, 121}, {300, 321}}) == 0);  // 3, and 2 and 2
    CHECK(named({{100, 121}, {300, 321}}, {{100, 122}}) == 1);
    CHECK(named({{100, 122}}, {{100, 121}}) == 1);
    CHECK(named({{100, 121}}, {{100, 121}}) == 0);  // of equals the first
    CHECK(named({{100, 121}}, {{100, 120}, {300, 320}}) == 0);
    CHECK(named({{100, 120}, {300, 320}}, {{100, 121}}) == 0);
}

TEST_CASE("after two lots of scenes that could not be decided no more is tried", "[plan]") {
    PlanProblem p = on_one_day(1000, {20, 20, 20});
    for (int i = 0; i < 3; ++i)
        p.scenes[static_cast<std::size_t>(i)].light = {{100, 150 + 10 * i}, {500, 550}};
    PlanEffort none;  // without a look at any plan, pairs alone can be seen not to hold
    none.dispatched = 0;
    none.first = 1;
    none.nodes = 0;
    p.order = {{0, 1}, {1, 0}};
    const auto part = part_without_plan(p, none);
    REQUIRE(part);
    CHECK(part->scenes == std::vector<std::size_t>{0, 1});
    p.order = {{0, 2}, {2, 0}};
    CHECK_FALSE(part_without_plan(p, none));
    p.scenes[1].may_be_dropped = true;  // it is not among those that must be kept
    CHECK(part_without_plan(p, none));
}

TEST_CASE("what gives least is told first, and last what has to go", "[plan]") {
    PlanProblem p = on_one_day(100, {60, 50});
    p.days[0].whole.to = 200;
    const auto conflict = conflict_of(p, true);
    REQUIRE(conflict);
    REQUIRE(conflict->enough.size() >= 3);
    for (std::size_t i = 0; i < 3; ++i)
        CHECK(conflict->enough[i].minutes == 10);
    CHECK(conflict->enough_is_all);
    p.scenes[1].light = {{0, 55}, {0, 58}};
    const auto light = conflict_of(p, true);
    REQUIRE(light);
    for (std::size_t i = 0; i + 1 < light->enough.size(); ++i) {
        const auto &a = light->enough[i].minutes, &b = light->enough[i + 1].minutes;
        CHECK((!b || (a && *a <= *b)));
    }
}

TEST_CASE("a part has a plan wherever the whole has one", "[plan]") {
    MadeShoots made{20260312};
    int none = 0, loosened = 0;
    for (int i = 0; i < 600; ++i) {
        CAPTURE(i);
        const PlanProblem problem = i % 3 == 0 ? made.next() : with_short_cut(made.next());
        for (std::size_t left_out = 0; left_out < problem.scenes.size(); ++left_out) {
            std::vector<std::size_t> scenes;
            for (std::size_t s = 0; s < problem.scenes.size(); ++s)
                if (s != left_out) scenes.push_back(s);
            const PlanPart part = part_of(problem, scenes);
            PlanProblem dropped = problem;
            dropped.scenes[left_out].may_be_dropped = true;
            const bool alone = EveryPlan{part.alone}.exists(),
                       loose = EveryPlan{part.loose}.exists();
            const bool whole = alone || EveryPlan{dropped}.exists();
            if (whole) CHECK(loose);
            if (alone) CHECK(EveryPlan{dropped}.exists());
            none += loose ? 0 : 1;
            loosened += loose && !alone ? 1 : 0;
        }
    }
    CHECK(none > 100);
    CHECK(loosened > 10);
}

TEST_CASE("a part's rules are those of the whole", "[plan]") {
    PlanProblem problem = crowded();
    problem.order = {{0, 1}, {3, 7}};
    problem.same_day = {{1, 2}, {7, 9}, {0, 1}};
    const PlanPart part = part_of(problem, {3, 7, 9});
    REQUIRE(part.alone.order.size() == 1);
    REQUIRE(part.alone.same_day.size() == 1);
    CHECK(of_whole(part, {Kind::order, 0}) == PlanRule{Kind::order, 1});
    CHECK(of_whole(part, {Kind::same_day, 0}) == PlanRule{Kind::same_day, 1});
    CHECK(of_whole(part, {Kind::light, 2}) == PlanRule{Kind::light, 9});
    CHECK(of_whole(part, {Kind::hours, 1}) == PlanRule{Kind::hours, 1});
}

TEST_CASE("few scenes that can't all be shot are named where the search can't tell of all",
          "[plan]") {
    const PlanProblem problem = crowded();
    PlanEffort little;
    little.nodes = 300;
    const PlanFound found = best_plan(problem, little);
    REQUIRE_FALSE(found.plan);
    REQUIRE_FALSE(found.is_proven);
    const auto conflict = conflict_of(problem, false, little);
    REQUIRE(conflict);
    CHECK(conflict->is_minimal);
    for (const std::size_t i : {3U, 7U, 9U}) {
        CHECK(std::ranges::count(conflict->rules, PlanRule{Kind::light, i}) == 1);
        CHECK(std::ranges::count(conflict->rules, PlanRule{Kind::kept, i}) == 1);
    }
    CHECK(conflict->rules.size() == 6);
    // One of the three dropped, or in other light, is enough.
    CHECK(conflict->enough.size() == 6);
    CHECK(conflict->enough_is_all);
}
