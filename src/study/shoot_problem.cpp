#include "keyhour/study/shoot_problem.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "keyhour/site/dates.hpp"
#include "keyhour/study/lamp_day.hpp"

namespace keyhour::study {
namespace {

class Builder {
public:
    Builder(const Shoot& shoot, const ShootLight& light, const ShootCase& otherwise)
        : shoot_{shoot}, light_{light}, case_{otherwise} {
        out_.origin = shoot.zone().start_of(shoot.days.front());
        out_.done.assign(shoot.scenes.size(), false);
        if (case_.under_way) {
            out_.first_day = case_.under_way->day;
            for (const std::size_t scene : case_.under_way->done)
                out_.done[scene] = true;
        }
    }

    ShootProblem build() {
        PlanProblem& p = out_.problem;
        const auto minutes = [](std::chrono::minutes m) { return static_cast<int>(m.count()); };
        const ShootRules& rules = shoot_.rules;
        p.limits = {minutes(rules.rest), minutes(rules.break_after), minutes(rules.break_length),
                    minutes(rules.longest_day), minutes(rules.enough_slack)};
        for (std::size_t d = out_.first_day; d < shoot_.days.size(); ++d)
            p.days.push_back(day(d));
        add_moves();
        for (std::size_t i = 0; i < shoot_.scenes.size(); ++i)
            p.scenes.push_back(scene(i));
        join_set_ups();
        add_order();
        if (case_.under_way)
            p.under_way =
                PlanStart{static_cast<int>(case_.under_way->place),
                          std::min(down(case_.under_way->work_since), p.days.front().hours.from)};
        return std::move(out_);
    }

private:
    int up(Instant t) const {
        return static_cast<int>(std::ceil((t - out_.origin).count() / 60 - 1e-6));
    }
    int down(Instant t) const {
        return static_cast<int>(std::floor((t - out_.origin).count() / 60 + 1e-6));
    }
    MinuteSpan inward(const Span& s) const {
        const int from = up(s.from);
        return {from, std::max(from, down(s.to))};
    }

    PlanDay day(std::size_t d) const {
        const site::LocalDate date = shoot_.days[d];
        PlanDay out{inward(hours_of(shoot_.zone(), date, shoot_.rules.hours)),
                    inward(hours_of(shoot_.zone(), date, std::nullopt))};
        if (case_.under_way && d == out_.first_day) {
            const int now = up(case_.under_way->free_from);
            out.hours = {now, std::max(now, out.hours.to)};
            out.whole.from = now;
            out.whole.to = std::max(now, out.whole.to);
        }
        return out;
    }

    void add_moves() {
        for (std::size_t a = 0; a < shoot_.places.size(); ++a) {
            out_.problem.moves.emplace_back();
            for (std::size_t b = 0; b < shoot_.places.size(); ++b)
                out_.problem.moves.back().push_back(move_minutes(shoot_, a, b));
        }
    }

    PlanScene scene(std::size_t i) const {
        const ShootScene& s = shoot_.scenes[i];
        PlanScene out;
        out.place = static_cast<int>(s.place);
        out.set_up = set_up_minutes(s, shoot_.crew).value_or(0);
        out.length = static_cast<int>(s.length.count());
        out.over_run = static_cast<int>(s.over_run.count());
        out.repeatable = s.repeatable;
        const bool loses_sun = case_.overcast && needs_sun(s.light);
        out.may_be_dropped = s.may_be_dropped || out_.done[i] || loses_sun;
        if (out_.done[i]) return out;
        for (std::size_t d = out_.first_day; d < shoot_.days.size(); ++d) {
            if (!case_.only_day.empty() && case_.only_day[i] != d) continue;
            if (loses_sun && case_.overcast == d) continue;
            for (const SceneLight& light : light_.of(i, d))
                if (light.sure || s.repeatable)
                    out.light.push_back(inward(light.sure.value_or(light.stated)));
            if (const auto there = presence(s, d)) out.presence.push_back(*there);
        }
        return out;
    }

    /// When all its people are there; the whole day if it needs none.
    std::optional<MinuteSpan> presence(const ShootScene& s, std::size_t d) const {
        MinuteSpan out = inward(hours_of(shoot_.zone(), shoot_.days[d], std::nullopt));
        for (const std::size_t who : s.people) {
            const ShootPerson& person = shoot_.people[who];
            if (!person.days.empty() && std::ranges::find(person.days, d) == person.days.end())
                return std::nullopt;
            const MinuteSpan there = inward(hours_of(shoot_.zone(), shoot_.days[d], person.hours));
            out = {std::max(out.from, there.from), std::min(out.to, there.to)};
        }
        return out.from < out.to ? std::optional{out} : std::nullopt;
    }

    /// Scenes that name each other's set-up, directly or by a third, are one group.
    void join_set_ups() {
        std::vector<std::size_t> root(shoot_.scenes.size());
        std::iota(root.begin(), root.end(), std::size_t{0});
        const auto find = [&](std::size_t i) {
            while (root[i] != i)
                i = root[i];
            return i;
        };
        std::vector<bool> is_joined(shoot_.scenes.size());
        for (std::size_t i = 0; i < shoot_.scenes.size(); ++i)
            if (const auto other = shoot_.scenes[i].same_set_up) {
                root[find(i)] = find(*other);
                is_joined[i] = is_joined[*other] = true;
            }
        for (std::size_t i = 0; i < shoot_.scenes.size(); ++i)
            if (is_joined[i]) out_.problem.scenes[i].set_up_group = static_cast<int>(find(i));
    }

    void add_order() {
        PlanProblem& p = out_.problem;
        for (std::size_t i = 0; i < shoot_.scenes.size(); ++i) {
            for (const std::size_t earlier : shoot_.scenes[i].after)
                p.order.push_back({earlier, i});
            for (const std::size_t other : shoot_.scenes[i].same_day)
                p.same_day.push_back({other, i});
        }
        out_.cover_pairs_from = p.order.size();
        if (case_.overcast) return;
        for (std::size_t i = 0; i < shoot_.scenes.size(); ++i)
            for (std::size_t c = 0; c < shoot_.scenes.size(); ++c)
                if (shoot_.scenes[c].is_cover && needs_sun(shoot_.scenes[i].light))
                    p.order.push_back({i, c});
    }

    const Shoot& shoot_;
    const ShootLight& light_;
    const ShootCase& case_;
    ShootProblem out_;
};

}  // namespace

ShootProblem problem_of(const Shoot& shoot, const ShootLight& light, const ShootCase& otherwise) {
    return Builder{shoot, light, otherwise}.build();
}

std::optional<std::size_t> first_to_break(const PlanProblem& problem, const Plan& plan,
                                          std::size_t day, int late) {
    std::optional<int> ends;  // of the item before, as it now is
    for (std::size_t i = 0; i < plan.items.size(); ++i) {
        const PlanItem& item = plan.items[i];
        if (item.day != day) continue;
        int begins = item.set_up_from + (ends ? 0 : late);
        if (ends) {
            const PlanItem& before = plan.items[i - 1];
            const int way =
                problem.moves[static_cast<std::size_t>(problem.scenes[before.scene].place)]
                             [static_cast<std::size_t>(problem.scenes[item.scene].place)];
            const bool was_break =
                item.set_up_from - before.to - way >= problem.limits.break_length;
            begins = std::max(begins, *ends + way + (was_break ? problem.limits.break_length : 0));
        }
        const int from = begins + item.from - item.set_up_from;
        if (from > item.latest) return i;
        ends = from + item.to - item.from;
    }
    return std::nullopt;
}

}  // namespace keyhour::study
