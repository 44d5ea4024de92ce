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

}  // namespace

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
