#include "tell/plan_page.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "keyhour/site/dates.hpp"
#include "tell/cautions.hpp"
#include "tell/plan_words.hpp"
#include "words/clock.hpp"
#include "words/shoot_names.hpp"

namespace keyhour::tell {
namespace {

using ask::PlannedDay;
using ask::PlannedScene;

class PlanPage {
public:
    PlanPage(const ask::PlanAnswer& answer, const PlanQuestion& q)
        : a_{answer}, q_{q}, shoot_{q.shoot}, zone_{q.shoot.zone()} {}

    Paragraphs page() {
        if (!a_.exists) {
            say_why_not();
            return std::move(out_);
        }
        say(headline());
        for (const PlannedDay& day : a_.days)
            say_day(day);
        say_dropped();
        say_variants();
        if (std::ranges::any_of(a_.days, [](const PlannedDay& d) {
                return std::ranges::any_of(d.scenes,
                                           [](const auto& s) { return !s.cloth.empty(); });
            }))
            say(cloth_caution);
        return std::move(out_);
    }

private:
    void say(std::string text, std::size_t indent = 0) {
        out_.push_back({std::move(text), indent, indent + 2});
    }
    std::string name(std::size_t scene) const { return shoot_.scenes[scene].name; }
    std::string clock(Instant t) const { return words::minute_up(t, zone_); }
    std::string date(std::size_t day) const { return words::short_date(shoot_.days[day]); }

    std::string headline() const {
        std::size_t scenes = 0;
        const PlannedScene* least = nullptr;
        for (const PlannedDay& day : a_.days)
            for (const PlannedScene& s : day.scenes) {
                ++scenes;
                if (!shoot_.scenes[s.scene].repeatable && (!least || s.slack() < least->slack()))
                    least = &s;
            }
        std::string text = fmt::format(
            "{}{}: {} scene{} on {} day{}, all rules kept{}", shoot_.name,
            q_.is_replan ? ", the rest" : "", scenes, scenes == 1 ? "" : "s", a_.days.size(),
            a_.days.size() == 1 ? "" : "s", a_.is_proven ? ", the best order there is" : "");
        if (!a_.dropped.empty()) text += fmt::format("; {} dropped", a_.dropped.size());
        if (least)
            text += fmt::format(". Of what can't be repeated \"{}\" has the least slack, {}",
                                name(least->scene), words::in_minutes(least->slack()));
        return text;
    }

    void say_day(const PlannedDay& day) {
        const bool goes_on = q_.is_replan && &day == a_.days.data();
        say(fmt::format("{}, {}: {} {}, wrap {}", date(day.day),
                        words::offsets_over(day.call(), day.wrap(), zone_),
                        goes_on ? "next at" : "call", clock(day.call()), clock(day.wrap())));
        std::size_t pause = 0;
        for (std::size_t i = 0; i < day.scenes.size(); ++i) {
            if (pause < day.breaks.size() && day.breaks[pause].to <= day.scenes[i].set_up_from) {
                const study::Span& b = day.breaks[pause++];
                say(fmt::format("{} break until {}", clock(b.from), clock(b.to)), 2);
            }
            say_scene(day.scenes[i]);
        }
        say_lateness(day);
    }

    void say_scene(const PlannedScene& s) {
        const study::ShootScene& scene = shoot_.scenes[s.scene];
        if (s.move > Seconds{0})
            say(fmt::format("{} move to {}, {}", clock(s.set_up_from - s.move),
                            shoot_.places[scene.place].name, words::in_minutes(s.move)),
                2);
        std::string text = clock(s.set_up_from);
        if (s.set_up_from < s.from)
            text += fmt::format(" rig, shoot {}", clock(s.from));
        else
            text += " shoot";
        text +=
            fmt::format(" to {}: {}, {}", clock(s.to), scene.name, shoot_.places[scene.place].name);
        if (scene.light != study::LightWanted::any)
            text += fmt::format(", {}", words::name(scene.light));
        text += slack(scene, s);
        say(text, 2);
        const std::string cloth = cloth_in_words(shoot_, s);
        const bool is_lock = scene.light == study::LightWanted::lamp_key ||
                             scene.light == study::LightWanted::sun_key;
        if (!scene.repeatable && !is_lock) say("ONCE ONLY", 8);
        if (!scene.repeatable && is_lock)
            say(fmt::format("LOCK {}{}: nothing is touched",
                            words::clock_span(s.from, s.to + Seconds{scene.over_run}, zone_),
                            scene.over_run.count() > 0 ? " with its over-run" : ""),
                8);
        if (!cloth.empty()) say("cloth: " + cloth, 8);
    }

    /// By when it must begin: what is pressed, or every scene where that is asked for.
    std::string slack(const study::ShootScene& scene, const PlannedScene& s) const {
        constexpr Seconds pressed{2 * 3600};
        const bool told = q_.whole_slack || !scene.repeatable || s.slack() < pressed;
        std::string text;
        if (told)
            text = fmt::format("; begin by {}, slack {}", words::minute_down(s.latest, zone_),
                               words::in_minutes(s.slack()));
        if (!s.is_sure) text += ", NOT SURE within the doubt";
        if (q_.whole_slack && s.latest_stated)
            text += fmt::format(" ({} as stated)", words::in_minutes(*s.latest_stated - s.from));
        return text;
    }

    void say_lateness(const PlannedDay& day) {
        std::string text = fmt::format(
            "{} min late all day: {}", q_.late_min,
            day.breaks_late ? fmt::format("\"{}\" is LOST", name(*day.breaks_late)) : "all holds");
        if (day.first)
            text += fmt::format("; first to break: \"{}\", from {} late", name(day.first->scene),
                                words::in_minutes(Seconds{60.0 * day.first->from_min}));
        say(text, 2);
    }

    void say_dropped() {
        for (const std::size_t scene : a_.dropped) {
            const std::string why = no_light_in_words(shoot_, a_.light, scene);
            say(fmt::format("dropped: {}{}", name(scene),
                            why.empty() ? std::string{", no time for it"} : ": " + why));
        }
    }

    std::string order_of(const std::vector<PlannedDay>& days) const {
        std::string text;
        for (const PlannedDay& day : days) {
            text += fmt::format("{}{}", text.empty() ? "" : "; ", date(day.day));
            for (std::size_t i = 0; i < day.scenes.size(); ++i)
                text += fmt::format("{} {} {}", i > 0 ? "," : ":", clock(day.scenes[i].from),
                                    name(day.scenes[i].scene));
        }
        return text;
    }

    std::string lost(const std::vector<std::size_t>& scenes) const {
        std::vector<std::string> names;
        for (const std::size_t s : scenes)
            if (std::ranges::find(a_.dropped, s) == a_.dropped.end())
                names.push_back(fmt::format("\"{}\"", name(s)));
        if (names.empty()) return "nothing is lost";
        return fmt::format("lost: {}", fmt::join(names, ", "));
    }

    void say_variants() {
        for (std::size_t d = 0; d < a_.overcast.size(); ++d) {
            const auto& cloud = a_.overcast[d];
            if (!cloud) continue;
            const std::string head = fmt::format("No sun on {}: ", date(d));
            if (!cloud->exists)
                say(head + "no plan keeps the rules");
            else
                say(fmt::format("{}{}. {}", head, lost(cloud->dropped), order_of(cloud->days)));
        }
        if (!a_.swapped) return;
        if (a_.swapped->exists)
            say(fmt::format("The days swapped: {}. {}", lost(a_.swapped->dropped),
                            order_of(a_.swapped->days)));
        else
            say(fmt::format("The days swapped: no plan{}",
                            a_.swapped->is_proven ? " keeps the rules" : " found"));
    }

    void say_why_not() {
        if (!a_.conflict) {
            say(
                fmt::format("{}: no plan found, and it is not shown that there is none; fewer "
                            "scenes, or more that may be dropped, make the search shorter",
                            shoot_.name));
            return;
        }
        say(fmt::format("{}: NO PLAN. These can't hold together{}:", shoot_.name,
                        a_.conflict->is_minimal ? "" : " (perhaps fewer of them)"));
        for (const study::PlanRule& rule : a_.conflict->rules)
            say(rule_in_words(shoot_, a_, rule), 2);
        if (a_.conflict->enough.empty()) {
            say("None of them is enough if it gives alone: there is a second conflict behind it.");
            return;
        }
        say("Any one of these is enough, the least that it takes:");
        for (const study::Giving& giving : a_.conflict->enough)
            say(giving_in_words(shoot_, a_, giving), 2);
    }

    const ask::PlanAnswer& a_;
    const PlanQuestion& q_;
    const study::Shoot& shoot_;
    const site::Zone& zone_;
    Paragraphs out_;
};

}  // namespace

Paragraphs plan_page(const ask::PlanAnswer& answer, const PlanQuestion& q) {
    return PlanPage{answer, q}.page();
}

}  // namespace keyhour::tell
