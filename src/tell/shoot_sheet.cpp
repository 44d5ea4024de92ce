#include "shoot_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "draw/svg.hpp"
#include "draw/timetable_drawing.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/version.hpp"
#include "page_parts.hpp"
#include "page_table.hpp"
#include "plan_sentences.hpp"
#include "plan_words.hpp"
#include "sheet_sections.hpp"
#include "tell/cautions.hpp"
#include "words/clock.hpp"
#include "words/shoot_names.hpp"

namespace keyhour::tell {
namespace {

using ask::PlannedScene;
using draw::TimetableRow;

constexpr double whole_width_mm = 180;

class ShootSheet {
public:
    ShootSheet(const ask::PlanAnswer& answer, const PlanQuestion& q, std::size_t day)
        : a_{answer}, q_{q}, shoot_{q.shoot}, zone_{q.shoot.zone()}, day_{answer.days[day]} {}

    std::string page() {
        std::string out = head();
        out += fmt::format(
            "<header>\n<p class=\"kind\">Shoot, day {} of {}</p>\n<h1>{}</h1>\n"
            "<p>{}, clocks {} ({})</p>\n</header>\n<main>\n<p class=\"answer\">{}</p>\n",
            day_.day + 1, shoot_.days.size(), draw::escaped(shoot_.name),
            draw::escaped(site::date_in_words(date())),
            words::offsets_over(day_.call(), day_.wrap(), zone_), draw::escaped(zone_.name()),
            draw::escaped(answer_line()));
        out += "<div class=\"drawings\">\n" + strip() + timetable() + "</div>\n" +
               "<div class=\"feet\">\n" + if_it_slips() + places() + cautions() +
               "</div>\n</main>\n";
        out += fmt::format(
            "<footer><p>keyhour {}. Times are by the clock at the place, to the whole minute; "
            "slack is what remains in the light that is sure.</p></footer>\n</body>\n</html>\n",
            version());
        return out;
    }

private:
    [[nodiscard]] site::LocalDate date() const { return shoot_.days[day_.day]; }
    [[nodiscard]] std::string clock(Instant t) const { return words::minute_up(t, zone_); }
    [[nodiscard]] const study::ShootScene& scene(const PlannedScene& s) const {
        return shoot_.scenes[s.scene];
    }

    [[nodiscard]] std::string head() const {
        return fmt::format(
            "<!DOCTYPE html>\n<!-- keyhour light sheet -->\n<html lang=\"en-GB\">\n<head>\n"
            "<meta charset=\"utf-8\">\n"
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
            "style-src '{}'; base-uri 'none'; form-action 'none'\">\n"
            "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
            "<title>{}</title>\n<style>{}</style>\n</head>\n<body class=\"timetable\">\n",
            page_style_hash(),
            draw::escaped(fmt::format("Shoot: {}, {}", shoot_.name, site::date_in_words(date()))),
            page_style());
    }

    [[nodiscard]] std::string answer_line() const {
        const PlannedScene* least = nullptr;
        for (const PlannedScene& s : day_.scenes)
            if (!scene(s).repeatable && (!least || s.slack() < least->slack())) least = &s;
        std::string text =
            fmt::format("Call {}, wrap {}: {} scene{}.", clock(day_.call()), clock(day_.wrap()),
                        day_.scenes.size(), day_.scenes.size() == 1 ? "" : "s");
        if (least)
            text += fmt::format(" Once only: {}, begin by {}, slack {}.", scene(*least).name,
                                words::minute_down(least->latest, zone_),
                                words::in_minutes(least->slack()));
        return text;
    }

    /// Drives, breaks and scenes, by time.
    [[nodiscard]] std::vector<TimetableRow> rows() const {
        std::vector<TimetableRow> out;
        std::size_t pause = 0;
        for (const PlannedScene& s : day_.scenes) {
            if (pause < day_.breaks.size() && day_.breaks[pause].to <= s.set_up_from) {
                const study::Span& b = day_.breaks[pause++];
                out.push_back(
                    {TimetableRow::Kind::pause, "break", b.from, b.from, b.to, {}, {}, false});
            }
            if (s.move > Seconds{0})
                out.push_back({TimetableRow::Kind::move,
                               "move to " + shoot_.places[scene(s).place].name,
                               s.set_up_from - s.move,
                               s.set_up_from - s.move,
                               s.set_up_from,
                               {},
                               {},
                               false});
            out.push_back({TimetableRow::Kind::scene, scene(s).name, s.set_up_from, s.from, s.to,
                           Seconds{scene(s).over_run}, s.latest, !scene(s).repeatable});
        }
        return out;
    }

    [[nodiscard]] std::string strip() const {
        const std::string title = "Timetable, " + site::date_in_words(date());
        const auto figure = [&](const char* width_class, double width, const char* prefix) {
            return fmt::format("<figure class=\"figure-strip {}\">\n{}</figure>\n", width_class,
                               draw::draw_timetable(title, rows(), zone_,
                                                    {width, prefix, true, site::Units::metres}));
        };
        return page_section("strip", "The day",
                            figure("wide", whole_width_mm, "day-wide") +
                                figure("narrow", draw::phone_width_mm, "day-narrow"));
    }

    [[nodiscard]] std::string timetable() const {
        std::string out;
        auto next = day_.scenes.begin();
        for (const TimetableRow& row : rows()) {
            const std::string span = fmt::format("{} to {}", clock(row.from), clock(row.to));
            if (row.kind != TimetableRow::Kind::scene)
                out += tell::row({times(span), draw::escaped(row.name), ""});
            else
                out += scene_row(*next++, span);
        }
        return page_section("scenes", "Timetable", table({"Time", "Scene", "To mind"}, out));
    }

    [[nodiscard]] std::string scene_row(const PlannedScene& s, const std::string& span) const {
        const study::ShootScene& asked = scene(s);
        std::string mind;
        const auto add = [&](const std::string& text) {
            if (!text.empty()) mind += mind.empty() ? draw::escaped(text) : below(text);
        };
        add(slack_in_words(shoot_, s, true));
        add(once_only_in_words(shoot_, s));
        if (const std::string cloth = cloth_in_words(shoot_, s); !cloth.empty())
            add("cloth: " + cloth);
        const std::string shooting =
            s.set_up_from < s.from ? fmt::format("rig, shoot {} to {}", clock(s.from), clock(s.to))
                                   : std::string{"no set-up"};
        std::string where = shoot_.places[asked.place].name;
        if (asked.light != study::LightWanted::any)
            where += fmt::format(", {}", words::name(asked.light));
        return tell::row({times(span) + below(shooting),
                          name_cell(asked.name) + below(where + who(asked)), mind});
    }

    [[nodiscard]] std::string who(const study::ShootScene& asked) const {
        std::string out;
        for (const std::size_t person : asked.people)
            out += fmt::format("{}{}", out.empty() ? "; with " : ", ", shoot_.people[person].name);
        return out;
    }

    [[nodiscard]] std::string if_it_slips() const {
        std::string items = item(lateness_in_words(day_, q_));
        for (const CloudSentence& cloud : clouds_in_words(a_, q_))
            if (cloud.day == day_.day) items += item(cloud.text);
        if (const std::string swapped = swapped_in_words(a_, q_); !swapped.empty())
            items += item(swapped);
        return page_section("slips", "If it slips", "<ul>\n" + items + "</ul>\n");
    }

    static std::string item(const std::string& text) {
        return fmt::format("<li>{}</li>\n", draw::escaped(text));
    }

    /// Where the day's places lie.
    [[nodiscard]] std::string places() const {
        std::vector<bool> used(shoot_.places.size());
        for (const PlannedScene& s : day_.scenes)
            used[scene(s).place] = true;
        std::string items;
        for (std::size_t i = 0; i < used.size(); ++i) {
            if (!used[i]) continue;
            const site::Site& at = shoot_.places[i].location.site;
            items += item(fmt::format("{}: {}{:.5f}, {:.5f}", shoot_.places[i].name,
                                      at.name.empty() ? "" : at.name + ", ",
                                      at.observer.latitude.in_degrees(),
                                      at.observer.longitude.in_degrees()));
        }
        return page_section("places", "Places", "<ul>\n" + items + "</ul>\n");
    }

    [[nodiscard]] std::string cautions() const {
        std::string items;
        const auto any = [&](auto holds) { return std::ranges::any_of(day_.scenes, holds); };
        if (any([](const PlannedScene& s) { return !s.cloth.empty(); }))
            items += item(cloth_caution);
        if (any([&](const PlannedScene& s) {
                return scene(s).light == study::LightWanted::lamp_key;
            }))
            items += item(lamp_outside_caution);
        if (any([&](const PlannedScene& s) { return study::needs_sun(scene(s).light); }))
            items += item(sun_caution);
        if (items.empty()) return {};
        return page_section("cautions", "Cautions", "<ul>\n" + items + "</ul>\n");
    }

    const ask::PlanAnswer& a_;
    const PlanQuestion& q_;
    const study::Shoot& shoot_;
    const site::Zone& zone_;
    const ask::PlannedDay& day_;
};

}  // namespace

std::string shoot_sheet(const ask::PlanAnswer& answer, const PlanQuestion& q, std::size_t day) {
    return ShootSheet{answer, q, day}.page();
}

}  // namespace keyhour::tell
