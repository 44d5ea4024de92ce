// A sound plan by hand, and what the judge says of each thing that is done to it.

#include "keyhour/study/plan_judge.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace keyhour::study;

namespace {

using Kind = PlanRule::Kind;

PlanScene scene(int place, int set_up, int length) {
    PlanScene s;
    s.place = place;
    s.set_up = set_up;
    s.length = length;
    s.light = s.presence = {{0, 10000}};
    return s;
}

/// Three scenes: two of one set-up at the first place, then one at the second, 20 minutes away.
struct Day {
    PlanProblem problem;
    Plan plan;
    Day() {
        problem.days = {{{480, 1080}, {0, 1440}}, {{1920, 2520}, {1440, 2880}}};
        problem.scenes = {scene(0, 30, 60), scene(0, 30, 40), scene(1, 10, 50)};
        problem.scenes[0].set_up_group = problem.scenes[1].set_up_group = 7;
        problem.moves = {{0, 20}, {20, 0}};
        problem.limits = {660, 360, 30, 780, 60};
        // scene, day, set-up, from, to, latest
        plan.items = {
            {0, 0, 480, 510, 570, 520}, {1, 0, 570, 570, 610, 580}, {2, 0, 630, 640, 690, 650}};
    }
    [[nodiscard]] std::vector<PlanRule> broken() const { return broken_rules(problem, plan); }
    [[nodiscard]] bool breaks_only(Kind kind, std::size_t index = 0) const {
        return broken() == std::vector{PlanRule{kind, index}};
    }
};

}  // namespace

TEST_CASE("a plan that keeps every rule to the minute is sound", "[plan]") {
    CHECK(Day{}.broken().empty());
}

TEST_CASE("a scene is planned once, or dropped where that is allowed", "[plan]") {
    Day day;
    day.plan.items.pop_back();
    CHECK(day.breaks_only(Kind::kept, 2));  // neither planned nor dropped
    day.plan.dropped = {2};
    CHECK(day.breaks_only(Kind::kept, 2));
    day.problem.scenes[2].may_be_dropped = true;
    CHECK(day.broken().empty());
    Day both;
    both.problem.scenes[2].may_be_dropped = true;
    both.plan.dropped = {2};
    CHECK(both.breaks_only(Kind::kept, 2));
}

TEST_CASE("set-up, length and latest beginning are the scene's", "[plan]") {
    for (const auto& spoil :
         {+[](PlanItem& i) { i.set_up_from += 5; }, +[](PlanItem& i) { i.to -= 5; },
          +[](PlanItem& i) { i.latest = i.from - 1; }}) {
        Day day;
        spoil(day.plan.items[2]);
        CHECK(day.breaks_only(Kind::kept, 2));
    }
    // Only right after one of its own, on the same day, is a scene not set up again.
    Day apart;
    apart.problem.scenes[1].set_up_group = 8;
    CHECK(apart.breaks_only(Kind::kept, 1));
}

TEST_CASE("light lasts the over-run longer up to the latest beginning, people to the end",
          "[plan]") {
    Day day;
    day.problem.scenes[2].over_run = 15;
    day.problem.scenes[2].light = {{640, 715}};  // 700 + 15
    day.problem.scenes[2].presence = {{640, 700}};
    CHECK(day.broken().empty());
    day.problem.scenes[2].light = {{640, 714}};
    CHECK(day.breaks_only(Kind::light, 2));
    day.problem.scenes[2].light = {{641, 800}};
    CHECK(day.breaks_only(Kind::light, 2));
    day.problem.scenes[2].light = {{600, 690}, {690, 800}};  // in one span of it
    CHECK(day.breaks_only(Kind::light, 2));
    day.problem.scenes[2].light = {{0, 2000}};
    day.problem.scenes[2].presence = {{640, 699}};
    CHECK(day.breaks_only(Kind::people, 2));
    day.problem.scenes[2].presence = {{641, 900}};
    CHECK(day.breaks_only(Kind::people, 2));
}

TEST_CASE("a day's hours hold from the first set-up to the latest end", "[plan]") {
    Day day;
    day.problem.days[0].hours = {480, 700};
    CHECK(day.broken().empty());
    day.problem.days[0].hours = {480, 699};
    CHECK(day.breaks_only(Kind::hours, 0));
    day.problem.days[0].hours = {481, 700};
    CHECK(day.breaks_only(Kind::hours, 0));
}

TEST_CASE("a move takes its minutes, and a rest its own", "[plan]") {
    Day late;
    late.problem.moves = {{0, 21}, {21, 0}};
    CHECK(late.breaks_only(Kind::moves));
    // The last scene on the second day: 1920 less 610 is 1310 minutes of rest.
    Day next;
    next.plan.items[2] = {2, 1, 1920, 1930, 1980, 1940};
    CHECK(next.broken().empty());
    next.problem.limits.rest = 1310;
    CHECK(next.broken().empty());
    next.problem.limits.rest = 1311;
    CHECK(next.breaks_only(Kind::rest));
    // Before the first call there was rest enough, however long it must be.
    Day first;
    first.problem.limits.rest = 5000;
    CHECK(first.broken().empty());
}

TEST_CASE("work without a break and a day's length end with what is shot", "[plan]") {
    Day day;  // 480 to 690: 210 minutes
    day.problem.limits.break_after = day.problem.limits.longest_day = 210;
    CHECK(day.broken().empty());
    day.problem.limits.longest_day = 209;
    CHECK(day.breaks_only(Kind::longest_day));
    day.problem.limits.longest_day = 300;
    day.problem.limits.break_after = 209;
    CHECK(day.breaks_only(Kind::breaks));
    // Half an hour idle beside the move is a break; a minute less is none.
    day.plan.items[2] = {2, 0, 660, 670, 720, 680};
    CHECK(day.broken().empty());
    day.plan.items[2] = {2, 0, 659, 669, 719, 679};
    CHECK(day.breaks_only(Kind::breaks));
}

TEST_CASE("pairs keep their order and day, and a set-up stays together", "[plan]") {
    Day day;
    day.problem.order = {{0, 1}, {1, 2}};
    day.problem.same_day = {{0, 2}};
    CHECK(day.broken().empty());
    day.problem.order = {{1, 2}, {2, 0}};
    CHECK(day.breaks_only(Kind::order, 1));
    day.problem.order.clear();
    day.plan.items[2] = {2, 1, 1920, 1930, 1980, 1940};
    CHECK(day.breaks_only(Kind::same_day, 0));
    // A pair with a dropped scene is void.
    day.plan.items.pop_back();
    day.plan.dropped = {2};
    day.problem.scenes[2].may_be_dropped = true;
    day.problem.order = {{2, 0}};
    CHECK(day.broken().empty());

    Day parted;  // the third between the two, which are set up twice then
    parted.problem.moves = {{0, 0}, {0, 0}};
    parted.plan.items = {
        {0, 0, 480, 510, 570, 510}, {2, 0, 570, 580, 630, 580}, {1, 0, 630, 660, 700, 660}};
    CHECK(parted.breaks_only(Kind::same_set_up, 7));
    parted.problem.scenes[0].stays_together = parted.problem.scenes[1].stays_together = false;
    CHECK(parted.broken().empty());
}
