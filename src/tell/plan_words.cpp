#include "tell/plan_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "keyhour/site/dates.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"
#include "words/shoot_names.hpp"

namespace keyhour::tell {
namespace {

using RuleKind = study::PlanRule::Kind;

std::string light_in_words(study::LightWanted light) {
    using study::LightWanted;
    switch (light) {
        case LightWanted::any:
            return "time";
        case LightWanted::front:
        case LightWanted::side:
        case LightWanted::back:
        case LightWanted::direct:
            return fmt::format("{} light", words::name(light));
        default:
            return words::name(light);
    }
}

class RuleWords {
public:
    RuleWords(const study::Shoot& shoot, const ask::PlanAnswer& answer)
        : shoot_{shoot}, asked_{answer.asked}, light_{answer.light} {}

    std::string rule(const study::PlanRule& r) const {
        const study::ShootRules& rules = shoot_.rules;
        switch (r.kind) {
            case RuleKind::kept:
                return fmt::format("{} is shot", scene(r.index));
            case RuleKind::light:
                return light(r.index);
            case RuleKind::people:
                return people(r.index);
            case RuleKind::order:
                return order(r.index);
            case RuleKind::same_day: {
                const study::PlanPair& pair = asked_.problem.same_day[r.index];
                return fmt::format("{} and {} on one day", scene(pair.first), scene(pair.second));
            }
            case RuleKind::same_set_up:
                return fmt::format("the set-up of {} stays for all that share it", scene(r.index));
            case RuleKind::hours:
                return hours(r.index);
            case RuleKind::moves:
                return "the minutes of the moves";
            case RuleKind::rest:
                return fmt::format("{} of rest between days", words::in_minutes(rules.rest));
            case RuleKind::breaks:
                return fmt::format("a break of {} after {} of work",
                                   words::in_minutes(rules.break_length),
                                   words::in_minutes(rules.break_after));
            case RuleKind::longest_day:
                return fmt::format("a day of at most {}", words::in_minutes(rules.longest_day));
        }
        return {};
    }

    std::string giving(const study::Giving& g) const {
        if (!g.minutes) return "without it: " + rule(g.rule);
        const std::chrono::minutes by{*g.minutes};
        const study::ShootRules& rules = shoot_.rules;
        switch (g.rule.kind) {
            case RuleKind::kept:
                return fmt::format("{} {} shorter", scene(g.rule.index), words::in_minutes(by));
            case RuleKind::people:
                return fmt::format("who is needed in {} there {} longer", scene(g.rule.index),
                                   words::in_minutes(by));
            case RuleKind::hours:
                return until(g.rule.index, *g.minutes);
            case RuleKind::moves:
                return fmt::format("moves {} shorter", words::in_minutes(by));
            case RuleKind::rest:
                return fmt::format("{} of rest, {} less", words::in_minutes(rules.rest - by),
                                   words::in_minutes(by));
            case RuleKind::breaks:
                return fmt::format("a break after {} of work only",
                                   words::in_minutes(rules.break_after + by));
            case RuleKind::longest_day:
                return fmt::format("a day of {}", words::in_minutes(rules.longest_day + by));
            default:
                return rule(g.rule);
        }
    }

private:
    std::string scene(std::size_t i) const { return fmt::format("\"{}\"", shoot_.scenes[i].name); }

    std::string light(std::size_t i) const {
        const std::string none = no_light_in_words(shoot_, light_, i);
        const study::ShootScene& s = shoot_.scenes[i];
        if (!none.empty()) return fmt::format("{}: {}", scene(i), none);
        return fmt::format("{} in its {}{}", scene(i), light_in_words(s.light),
                           s.repeatable ? "" : ", sure within the doubt");
    }

    std::string people(std::size_t i) const {
        std::vector<std::string> names;
        for (const std::size_t who : shoot_.scenes[i].people)
            names.push_back(shoot_.people[who].name);
        return fmt::format("{} while {} is there", scene(i), fmt::join(names, " and "));
    }

    std::string order(std::size_t k) const {
        const study::PlanPair& pair = asked_.problem.order[k];
        if (k >= asked_.cover_pairs_from)
            return fmt::format("cover scene {} kept in reserve until after {}", scene(pair.second),
                               scene(pair.first));
        return fmt::format("{} before {}", scene(pair.first), scene(pair.second));
    }

    site::LocalDate date(std::size_t day) const { return shoot_.days[asked_.first_day + day]; }

    std::string hours(std::size_t day) const {
        const study::MinuteSpan& h = asked_.problem.days[day].hours;
        return fmt::format("work within {} on {}",
                           words::clock_span(asked_.at(h.from), asked_.at(h.to), shoot_.zone()),
                           words::short_date(date(day)));
    }

    std::string until(std::size_t day, int minutes) const {
        const Instant end = asked_.at(asked_.problem.days[day].hours.to + minutes);
        return fmt::format("work until {} on {}", words::minute_up(end, shoot_.zone()),
                           words::short_date(date(day)));
    }

    const study::Shoot& shoot_;
    const study::ShootProblem& asked_;
    const study::ShootLight& light_;
};

}  // namespace

std::string rule_in_words(const study::Shoot& shoot, const ask::PlanAnswer& answer,
                          const study::PlanRule& rule) {
    return RuleWords{shoot, answer}.rule(rule);
}

std::string giving_in_words(const study::Shoot& shoot, const ask::PlanAnswer& answer,
                            const study::Giving& giving) {
    return RuleWords{shoot, answer}.giving(giving);
}

std::string no_light_in_words(const study::Shoot& shoot, const study::ShootLight& light,
                              std::size_t scene) {
    const auto& days = light.scenes[scene];
    const bool has_any = std::ranges::any_of(days, [](const auto& d) { return !d.empty(); });
    const bool has_sure = std::ranges::any_of(days, [](const study::SceneDay& d) {
        return std::ranges::any_of(d,
                                   [](const study::SceneLight& l) { return l.sure.has_value(); });
    });
    const study::ShootScene& s = shoot.scenes[scene];
    if (has_any && (has_sure || s.repeatable)) return {};
    return fmt::format("no {}{} on any {}", light_in_words(s.light),
                       has_any ? " that is sure within the doubt" : "",
                       light.first_day > 0 ? "day that is left" : "of the days");
}

std::string cloth_in_words(const study::Shoot& shoot, const ask::PlannedScene& planned) {
    const study::ShootScene& scene = shoot.scenes[planned.scene];
    const site::Location& location = shoot.places[scene.place].location;
    std::string out;
    for (const study::ClothToHang& cloth : planned.cloth)
        out += fmt::format("{}{} {} by {}", out.empty() ? "" : ", ",
                           location.room->windows[cloth.window].name,
                           words::size(cloth.cloth.width_m, cloth.cloth.height_m,
                                       site::Units::metres, words::Rounding::up),
                           words::minute_down(cloth.needed_by, shoot.zone()));
    return out;
}

}  // namespace keyhour::tell
