#include "tell/plan_sentences.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "words/clock.hpp"

namespace keyhour::tell {
namespace {

using ask::PlannedDay;
using ask::PlannedScene;

std::string name_of(const study::Shoot& shoot, std::size_t scene) {
    return shoot.scenes[scene].name;
}

std::string order_of(const study::Shoot& shoot, const std::vector<PlannedDay>& days) {
    std::string text;
    for (const PlannedDay& day : days) {
        text +=
            fmt::format("{}{}", text.empty() ? "" : "; ", words::short_date(shoot.days[day.day]));
        for (std::size_t i = 0; i < day.scenes.size(); ++i)
            text += fmt::format("{} {} {}", i > 0 ? "," : ":",
                                words::minute_up(day.scenes[i].from, shoot.zone()),
                                name_of(shoot, day.scenes[i].scene));
    }
    return text;
}

std::string lost(const ask::PlanAnswer& answer, const study::Shoot& shoot,
                 const std::vector<std::size_t>& scenes) {
    std::vector<std::string> names;
    for (const std::size_t s : scenes)
        if (std::ranges::find(answer.dropped, s) == answer.dropped.end())
            names.push_back(fmt::format("\"{}\"", name_of(shoot, s)));
    if (names.empty()) return "nothing is lost";
    return fmt::format("lost: {}", fmt::join(names, ", "));
}

}  // namespace

std::string plan_headline(const ask::PlanAnswer& answer, const PlanQuestion& q) {
    const study::Shoot& shoot = q.shoot;
    std::size_t scenes = 0;
    const PlannedScene* least = nullptr;
    for (const PlannedDay& day : answer.days)
        for (const PlannedScene& s : day.scenes) {
            ++scenes;
            if (!shoot.scenes[s.scene].repeatable && (!least || s.slack() < least->slack()))
                least = &s;
        }
    std::string text = fmt::format("{}{}: {} scene{} on {} day{}, all rules kept{}", shoot.name,
                                   q.is_replan ? ", the rest" : "", scenes, scenes == 1 ? "" : "s",
                                   answer.days.size(), answer.days.size() == 1 ? "" : "s",
                                   answer.is_proven ? ", the best order there is" : "");
    if (!answer.dropped.empty()) text += fmt::format("; {} dropped", answer.dropped.size());
    if (least)
        text += fmt::format(". Of what can't be repeated \"{}\" has the least slack, {}",
                            name_of(shoot, least->scene), words::in_minutes(least->slack()));
    return text;
}

std::string once_only_in_words(const study::Shoot& shoot, const PlannedScene& planned) {
    const study::ShootScene& scene = shoot.scenes[planned.scene];
    if (scene.repeatable) return {};
    if (scene.light != study::LightWanted::lamp_key && scene.light != study::LightWanted::sun_key)
        return "ONCE ONLY";
    return fmt::format(
        "LOCK {}{}: nothing is touched",
        words::clock_span(planned.from, planned.to + Seconds{scene.over_run}, shoot.zone()),
        scene.over_run.count() > 0 ? " with its over-run" : "");
}

std::string slack_in_words(const study::Shoot& shoot, const PlannedScene& planned,
                           bool whole_slack) {
    constexpr Seconds pressed{2 * 3600};
    const bool told =
        whole_slack || !shoot.scenes[planned.scene].repeatable || planned.slack() < pressed;
    std::string text;
    if (told)
        text =
            fmt::format("begin by {}, slack {}", words::minute_down(planned.latest, shoot.zone()),
                        words::in_minutes(planned.slack()));
    if (!planned.is_sure)
        text += fmt::format("{}NOT SURE within the doubt", text.empty() ? "" : ", ");
    if (whole_slack && planned.latest_stated)
        text += fmt::format(" ({} as stated)",
                            words::in_minutes(*planned.latest_stated - planned.from));
    return text;
}

std::string lateness_in_words(const PlannedDay& day, const PlanQuestion& q) {
    std::string text = fmt::format(
        "{} min late all day: {}", q.late_min,
        day.breaks_late ? fmt::format("\"{}\" is LOST", name_of(q.shoot, *day.breaks_late))
                        : "all holds");
    if (day.first)
        text += fmt::format("; first to break: \"{}\", from {} late",
                            name_of(q.shoot, day.first->scene),
                            words::in_minutes(Seconds{60.0 * day.first->from_min}));
    return text;
}

std::vector<CloudSentence> clouds_in_words(const ask::PlanAnswer& answer, const PlanQuestion& q) {
    std::vector<CloudSentence> out;
    for (std::size_t d = 0; d < answer.overcast.size(); ++d) {
        const auto& cloud = answer.overcast[d];
        if (!cloud) continue;
        const std::string head = fmt::format("No sun on {}: ", words::short_date(q.shoot.days[d]));
        out.push_back({d, !cloud->exists
                              ? head + "no plan keeps the rules"
                              : fmt::format("{}{}. {}", head, lost(answer, q.shoot, cloud->dropped),
                                            order_of(q.shoot, cloud->days))});
    }
    return out;
}

std::string swapped_in_words(const ask::PlanAnswer& answer, const PlanQuestion& q) {
    if (!answer.swapped) return {};
    if (!answer.swapped->exists)
        return fmt::format("The days swapped: no plan{}",
                           answer.swapped->is_proven ? " keeps the rules" : " found");
    return fmt::format("The days swapped: {}. {}", lost(answer, q.shoot, answer.swapped->dropped),
                       order_of(q.shoot, answer.swapped->days));
}

}  // namespace keyhour::tell
