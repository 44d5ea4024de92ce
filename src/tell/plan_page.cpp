#include "tell/plan_page.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "keyhour/site/dates.hpp"
#include "tell/cautions.hpp"
#include "tell/plan_sentences.hpp"
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
        say(plan_headline(a_, q_));
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
        say(lateness_in_words(day, q_), 2);
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
        if (const std::string slack = slack_in_words(shoot_, s, q_.whole_slack); !slack.empty())
            text += (slack.starts_with("NOT") ? ", " : "; ") + slack;
        say(text, 2);
        const std::string cloth = cloth_in_words(shoot_, s);
        if (std::string once = once_only_in_words(shoot_, s); !once.empty())
            say(std::move(once), 8);
        if (!cloth.empty()) say("cloth: " + cloth, 8);
    }

    void say_dropped() {
        for (const std::size_t scene : a_.dropped) {
            const std::string why = no_light_in_words(shoot_, a_.light, scene);
            say(fmt::format("dropped: {}{}", name(scene),
                            why.empty() ? std::string{", no time for it"} : ": " + why));
        }
    }

    void say_variants() {
        for (const CloudSentence& cloud : clouds_in_words(a_, q_))
            say(cloud.text);
        if (std::string text = swapped_in_words(a_, q_); !text.empty()) say(std::move(text));
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
            say(a_.conflict->enough_is_all
                    ? "None of them is enough if it gives alone: there is a second conflict "
                      "behind it."
                    : "Whether one of them is enough if it gives alone, the search can't tell.");
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
