// Slots, rules, parts, worths and conflicts of problems thrown at random, whole; and what the judge
// finds in plans that keep or just miss their limits.

#include <algorithm>
#include <catch2/catch.hpp>

#include "keyhour/study/plan_conflict.hpp"
#include "keyhour/study/plan_judge.hpp"
#include "keyhour/study/plan_part.hpp"
#include "keyhour/study/shoot_problem.hpp"
#include "recorded.hpp"
#include "support/dice.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

using RuleKind = PlanRule::Kind;

std::size_t any_of(test::Dice& dice, std::size_t count) {
    return dice.index(count);
}

PlanScene thrown_scene(test::Dice& dice, const PlanProblem& p) {
    PlanScene s;
    s.place = static_cast<int>(any_of(dice, p.moves.size()));
    s.set_up = dice.whole(0, 3) * 5;
    s.length = dice.whole(1, 60);
    s.over_run = dice.chance(0.3) ? 7 : 0;
    s.repeatable = dice.chance(0.6);
    s.may_be_dropped = dice.chance(0.3);
    if (dice.chance(0.5)) s.set_up_group = dice.whole(0, 1) * 3;
    s.stays_together = dice.chance(0.8);
    const int end = p.days.back().hours.to;
    for (int k = dice.whole(0, 3); k >= 0; --k) {
        const int from = dice.whole(-20, end - 40);
        s.light.push_back({from, from + dice.whole(10, 200)});
    }
    if (dice.chance(0.5))
        s.presence = {{-500, 5000}};
    else
        for (int from = dice.whole(-20, 90); from < end; from += 150)
            s.presence.push_back({from, from + dice.whole(20, 140)});
    return s;
}

/// Up to three days of 200 minutes or so, up to five scenes, up to three places.
PlanProblem thrown_problem(test::Dice& dice) {
    PlanProblem p;
    for (int d = dice.whole(0, 2), from = 0; d >= 0; --d, from += 400) {
        const int to = from + dice.whole(120, 240);
        p.days.push_back({{from, to}, {from - dice.whole(0, 50), to + dice.whole(0, 50)}});
    }
    const auto places = static_cast<std::size_t>(dice.whole(1, 3));
    p.moves.assign(places, std::vector<int>(places));
    for (std::size_t a = 0; a < places; ++a)
        for (std::size_t b = 0; b < a; ++b)
            p.moves[a][b] = p.moves[b][a] = dice.whole(1, 40);
    p.limits = {dice.whole(100, 260), dice.whole(60, 150), dice.whole(10, 30), dice.whole(90, 240),
                dice.whole(0, 60)};
    const auto scenes = static_cast<std::size_t>(dice.whole(1, 5));
    for (std::size_t i = 0; i < scenes; ++i)
        p.scenes.push_back(thrown_scene(dice, p));
    for (std::size_t i = 0; i < scenes; ++i) {
        if (dice.chance(0.25)) p.order.push_back({i, any_of(dice, scenes)});
        if (dice.chance(0.2)) p.same_day.push_back({i, any_of(dice, scenes)});
    }
    if (dice.chance(0.3))
        p.under_way = PlanStart{static_cast<int>(any_of(dice, places)), dice.whole(-60, 0)};
    return p;
}

std::vector<PlanRule> some_of(test::Dice& dice, std::vector<PlanRule> rules) {
    std::erase_if(rules, [&](const PlanRule&) { return dice.chance(0.4); });
    return rules;
}

/// One scene after the other as soon as it can be, without a look at light, people or limits; here
/// and there a day later, a break, a minute too early.
Plan thrown_plan(test::Dice& dice, const PlanProblem& p) {
    Plan plan;
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < p.scenes.size(); ++i)
        order.insert(order.begin() + static_cast<std::ptrdiff_t>(dice.index(i + 1)), i);
    std::size_t day = dice.chance(0.2) ? p.days.size() - 1 : 0;
    int now = p.days[day].hours.from;
    if (p.under_way && day == 0)
        now += p.moves[static_cast<std::size_t>(p.under_way->place)]
                      [static_cast<std::size_t>(p.scenes[order[0]].place)];
    for (std::size_t k = 0; k < order.size(); ++k) {
        const PlanScene& s = p.scenes[order[k]];
        if (dice.chance(0.1)) {
            plan.dropped.push_back(order[k]);
            continue;
        }
        PlanItem item{order[k], day, now, 0, 0, 0};
        bool joins = false;
        if (!plan.items.empty()) {
            const PlanScene& before = p.scenes[plan.items.back().scene];
            joins = s.set_up_group && before.set_up_group == s.set_up_group;
            item.set_up_from +=
                p.moves[static_cast<std::size_t>(before.place)][static_cast<std::size_t>(s.place)];
            if (day + 1 < p.days.size() && dice.chance(0.3)) {
                item.day = ++day;
                item.set_up_from = p.days[day].hours.from;
                joins = false;
            }
        }
        if (dice.chance(0.3)) item.set_up_from += p.limits.break_length + dice.whole(-1, 1);
        if (dice.chance(0.1)) item.set_up_from -= 1;
        if (dice.chance(0.05)) item.day = day = 0;
        item.from = item.set_up_from + (joins ? 0 : s.set_up);
        item.to = item.from + s.length;
        item.latest = item.from + dice.whole(-1, 12);
        if (dice.chance(0.05)) ++item.to;
        now = item.to;
        plan.items.push_back(item);
    }
    return plan;
}

/// Light and people to the minute of the plan, and limits that it keeps or misses by one.
void fit_to(test::Dice& dice, const Plan& plan, PlanProblem& p) {
    int longest = 0, rest = 10000;
    for (std::size_t i = 0; i < plan.items.size(); ++i) {
        const PlanItem& item = plan.items[i];
        PlanScene& s = p.scenes[item.scene];
        s.light = {{item.from - (dice.chance(0.1) ? -1 : 0),
                    item.latest + s.length + s.over_run - (dice.chance(0.1) ? 1 : 0)}};
        s.presence = {{item.from - (dice.chance(0.1) ? -1 : 0),
                       item.latest + s.length - (dice.chance(0.1) ? 1 : 0)}};
        longest = std::max(longest, item.to - p.days[item.day].hours.from);
        if (i > 0 && plan.items[i - 1].day != item.day)
            rest = std::min(rest, item.set_up_from - plan.items[i - 1].to);
        if (dice.chance(0.5)) p.days[item.day].hours.to = item.latest + s.length;
        if (dice.chance(0.1)) p.days[item.day].hours.to -= 1;
    }
    p.limits.longest_day = longest + dice.whole(-1, 1);
    if (dice.chance(0.5)) p.limits.break_after = p.limits.longest_day;
    if (rest < 10000) p.limits.rest = rest + dice.whole(-1, 1);
}

}  // namespace

TEST_CASE("slots, rules and parts of problems are those recorded", "[recorded][plan]") {
    Record record{"plan_parts"};
    test::Dice dice{20264};
    for (int i = 0; i < 40; ++i) {
        const PlanProblem p = thrown_problem(dice);
        record.add(fmt::format("slots-{}", i), slots_of(p));
        const std::vector<PlanRule> rules = rules_of(p);
        record.add("rules", rules);
        if (i % 2 == 0) record.add("with-some", with_rules(p, some_of(dice, rules)));
        std::vector<std::size_t> scenes;
        for (std::size_t s = 0; s < p.scenes.size(); ++s)
            if (dice.chance(0.7)) scenes.push_back(s);
        const PlanPart part = i % 8 == 7 ? whole_of(p) : part_of(p, scenes);
        record.add("scenes", part.scenes);
        record.add("pairs", std::pair{part.order, part.same_day});
        record.add("loose", part.loose);
        std::vector<PlanRule> of;
        for (const PlanRule& rule : rules_of(part.alone))
            of.push_back(of_whole(part, rule));
        record.add("of-whole", of);
        if (i % 5 != 0 || rules.empty()) continue;
        for (const PlanRule& rule : rules)
            record.add("loosened", loosened(p, rule, dice.whole(1, 20)).limits);
    }
    record.check();
}

TEST_CASE("a rule loosened is the problem that was recorded", "[recorded][plan]") {
    Record record{"plan_loosened"};
    test::Dice dice{20265};
    PlanProblem p = thrown_problem(dice);
    while (p.scenes.size() < 2 || p.moves.size() < 3 || p.days.size() < 2)
        p = thrown_problem(dice);
    for (const int minutes : {1, 15})
        for (const PlanRule& rule : rules_of(p)) {
            record.add("rule", rule);
            record.add("loosened", loosened(p, rule, minutes));
        }
    record.check();
}

TEST_CASE(
    "what the judge finds, what a plan is worth and where lateness breaks it first is "
    "recorded",
    "[recorded][plan]") {
    Record record{"plan_judged"};
    test::Dice dice{20266};
    for (int i = 0; i < 400; ++i) {
        PlanProblem p = thrown_problem(dice);
        Plan plan = thrown_plan(dice, p);
        // Now and then one is forgotten, planned twice, or dropped and planned.
        if (!plan.items.empty() && dice.chance(0.1)) plan.items.pop_back();
        if (!plan.items.empty() && dice.chance(0.1))
            plan.items.push_back(plan.items[dice.index(plan.items.size())]);
        if (dice.chance(0.1)) plan.dropped.push_back(dice.index(p.scenes.size()));
        record.add(fmt::format("as-thrown-{}", i), broken_rules(p, plan));
        fit_to(dice, plan, p);
        record.add("fitted", broken_rules(p, plan));
        record.add("worth", worth_of(p, plan));
        for (std::size_t d = 0; d < p.days.size(); ++d) {
            std::vector<std::optional<std::size_t>> broken;
            for (const int late : {0, 1, 3, 6, 10, 15, 25, 50})
                broken.push_back(first_to_break(p, plan, d, late));
            record.add("breaks", broken);
        }
    }
    record.check();
}

TEST_CASE("conflicts of problems without a plan are those recorded", "[recorded][plan]") {
    Record record{"plan_conflicts"};
    test::Dice dice{20267};
    int none = 0;
    for (int i = 0; none < 40; ++i) {
        const PlanProblem p = thrown_problem(dice);
        const PlanFound found = any_plan(p);
        if (found.plan) continue;
        ++none;
        record.add(fmt::format("conflict-{}", i), conflict_of(p, found.is_proven));
        const auto part = part_without_plan(p);
        record.add("part", part ? std::optional{part->scenes} : std::nullopt);
    }
    record.check();
}

TEST_CASE("conflicts that an effort is too small for are those recorded", "[recorded][plan]") {
    Record record{"plan_small_effort"};
    test::Dice dice{20268};
    for (int i = 0; i < 50; ++i) {
        PlanProblem p = thrown_problem(dice);
        for (int more = dice.whole(0, 3); more > 0; --more)
            p.scenes.push_back(thrown_scene(dice, p));
        PlanEffort effort;
        effort.dispatched = 1;
        effort.first = 1;
        effort.nodes = static_cast<unsigned long>(i < 20 ? dice.whole(0, 6) : dice.whole(0, 60));
        record.add(fmt::format("conflict-{}", i), conflict_of(p, i % 2 == 0, effort));
        const auto part = part_without_plan(p, effort);
        record.add("part", part ? std::optional{part->scenes} : std::nullopt);
    }
    record.check();
}
