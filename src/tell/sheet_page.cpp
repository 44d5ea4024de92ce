#include "sheet_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>

#include "doubt_documents.hpp"
#include "doubt_lines.hpp"
#include "draw/plan_drawing.hpp"
#include "draw/section_drawing.hpp"
#include "draw/strip_drawing.hpp"
#include "draw/svg.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/timetable.hpp"
#include "keyhour/version.hpp"
#include "page_parts.hpp"
#include "sheet_sections.hpp"
#include "sheet_slider.hpp"
#include "sheet_text.hpp"
#include "words/clock.hpp"

namespace keyhour::tell {
namespace {

/// A desk's column and the left of the printed page; its letters stay legible there.
constexpr double wide_mm = 130;

class SheetPage {
public:
    explicit SheetPage(const SheetContent& content) : c_{content} {}
    [[nodiscard]] std::string draw();

private:
    [[nodiscard]] std::string head() const;
    [[nodiscard]] std::string title() const;
    [[nodiscard]] std::string strips();
    [[nodiscard]] std::string plan();
    [[nodiscard]] std::string section() const;
    [[nodiscard]] std::string print_layout() const;

    const SheetContent& c_;
    std::vector<ShownStep> steps_;  ///< of the slider
    draw::PlanDrawing wide_plan_, narrow_plan_;
    draw::StripDrawing wide_strip_, narrow_strip_;
};

std::string SheetPage::title() const {
    const std::string& name = c_.location.site.name;
    return (name.empty() ? "Light sheet" : name) + ", " + site::date_in_words(c_.day.strip.date);
}

std::string SheetPage::head() const {
    return fmt::format(
        "<!DOCTYPE html>\n<!-- keyhour light sheet -->\n<html lang=\"en-GB\">\n<head>\n"
        "<meta charset=\"utf-8\">\n"
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
        "script-src '{}'; style-src '{}'; base-uri 'none'; form-action 'none'\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
        "<title>{}</title>\n<style>{}</style>\n</head>\n<body>\n",
        page_script_hash(), page_style_hash(), draw::escaped("Light sheet: " + title()),
        page_style());
}

/// One drawing for a desk and for paper, one for a phone.
std::string both_widths(const char* kind, const std::string& wide, const std::string& narrow) {
    return fmt::format(
        "<figure class=\"figure-{0} wide\">\n{1}</figure>\n"
        "<figure class=\"figure-{0} narrow\">\n{2}</figure>\n",
        kind, wide, narrow);
}

std::string SheetPage::strips() {
    wide_strip_ = draw::draw_strip(c_.there, c_.day.strip, {wide_mm, "strip-wide", true, c_.units});
    narrow_strip_ = draw::draw_strip(c_.there, c_.day.strip,
                                     {draw::phone_width_mm, "strip-narrow", true, c_.units});
    return page_section("strip", "The day",
                        both_widths("strip", wide_strip_.svg, narrow_strip_.svg) +
                            (steps_.empty() ? ""
                                            : "<p class=\"note screen\">The thick upright line is "
                                              "the time that the slider below shows.</p>\n"));
}

/// What the numbers on a plan mean.
std::string numbers_list(const std::vector<std::string>& numbered, const char* width) {
    if (numbered.empty()) return {};
    std::string items;
    for (std::size_t i = 0; i < numbered.size(); ++i)
        items += fmt::format("<li><span class=\"ring\">{}</span> <span>{}</span></li>\n", i + 1,
                             draw::escaped(numbered[i]));
    return fmt::format("<ul class=\"numbers {}\">\n{}</ul>\n", width, items);
}

std::string SheetPage::plan() {
    const study::DayStrip& strip = c_.day.strip;
    const draw::PlanContent content{strip.date, c_.plan_hours, draw::covers_on_plan(strip),
                                    strip.planned ? &*strip.planned : nullptr};
    const site::Location there = draw::with_key_lamp(c_.there, strip);
    wide_plan_ = draw::draw_plan(there, c_.room, content, {wide_mm, "plan-wide", true, c_.units});
    narrow_plan_ = draw::draw_plan(there, c_.room, content,
                                   {draw::phone_width_mm, "plan-narrow", true, c_.units});
    return page_section("plan", "Plan",
                        slider(c_, steps_) + both_widths("plan", wide_plan_.svg, narrow_plan_.svg) +
                            numbers_list(wide_plan_.numbered, "wide") +
                            numbers_list(narrow_plan_.numbered, "narrow") + slider_reading(c_));
}

std::string SheetPage::section() const {
    if (!c_.room) return {};
    const room::Room& room = c_.room->room();
    const study::KeyInterval* key = study::best_key(c_.day.strip);
    const auto& planned = c_.day.strip.planned;
    draw::SectionContent content{c_.day.strip.date,
                                 0,
                                 0,
                                 {},
                                 draw::stands_of(draw::with_key_lamp(c_.location, c_.day.strip))};
    bool found = planned || key != nullptr;
    if (planned) {
        draw::show_lock(*planned, content);
        key = nullptr;
    } else if (key) {
        content.window = key->window;
        content.mark = key->mark;
        content.instants = study::minutes_of_hold(*key->span);
    }
    for (std::size_t m = 0; m < room.marks.size() && !found; ++m)
        for (std::size_t w = 0; w < room.windows.size() && !found; ++w) {
            found = c_.room->scene().faces(w, m);
            content.window = w;
            content.mark = m;
        }
    if (!found) return {};
    if (!key && !planned)
        content.instants =
            study::hours_of_sun(c_.day.strip.windows[content.window], c_.location.site.zone);
    return page_section(
        "section-heading",
        fmt::format("Section: {} and {}", room.windows[content.window].name,
                    room.marks[content.mark].name),
        fmt::format("<figure class=\"figure-section\">\n{}</figure>\n",
                    draw::draw_section(*c_.room, content,
                                       {draw::phone_width_mm, "section", true, c_.units})));
}

/// How much larger than drawn a drawing is printed, by the style sheet's classes.
std::string size_class(const char* kind, double scale) {
    const int times = scale > 1.45 ? 145 : scale > 1.31 ? 130 : scale > 1.155 ? 115 : 100;
    return fmt::format("{}-{}", kind, times);
}

/// How strip and plan stand on paper, by the style sheet's classes: one over the other across the
/// page; else side by side, as a phone has them; else on a page each. Smaller than drawn they never
/// are: letters must stay legible.
std::string SheetPage::print_layout() const {
    constexpr double first_mm = 218, next_mm = 240;  // free on Letter, under the head and after
    constexpr double number_mm = 4.8;                // two numbers side by side
    const double numbers_mm =
        number_mm * std::ceil(static_cast<double>(wide_plan_.numbered.size()) / 2);
    const double together =
        (first_mm - numbers_mm) / (wide_strip_.height_mm + wide_plan_.height_mm);
    if (together > 1.155) return size_class("strip", together) + ' ' + size_class("plan", together);
    if (std::max(narrow_strip_.height_mm, narrow_plan_.height_mm) < first_mm) return "beside";
    return size_class("strip", first_mm / wide_strip_.height_mm) + ' ' +
           size_class("plan", (next_mm - numbers_mm) / wide_plan_.height_mm);
}

/// A line of links to the page's parts, by the headings' ids.
std::string links_to(const std::string& sections) {
    constexpr std::array<std::pair<const char*, const char*>, 12> parts{
        {{"strip", "Day"},
         {"plan", "Plan"},
         {"keys", "Keys"},
         {"section-heading", "Section"},
         {"covers", "Covers"},
         {"spots", "Outside"},
         {"lamps", "Lamps"},
         {"hours", "Hours"},
         {"rigging", "Rigging"},
         {"cautions", "Cautions"},
         {"recce", "Recce"},
         {"understood", "As understood"}}};
    std::string links;
    for (const auto& [id, name] : parts)
        if (sections.find(fmt::format("<h2 id=\"{}\">", id)) != std::string::npos)
            links += fmt::format("<a href=\"#{}\">{}</a>\n", id, name);
    return "<nav class=\"parts screen\" aria-label=\"Parts of the sheet\">\n" + links + "</nav>\n";
}

/// What a phone reads first in large letters, the rest as a list.
std::string answer_html(const std::vector<std::string>& answer) {
    std::string out =
        fmt::format("<p class=\"answer\" id=\"answer\">{}</p>\n", draw::escaped(answer.front()));
    if (answer.size() == 1) return out;
    out += "<ul class=\"answer-parts\">\n";
    for (std::size_t i = 1; i < answer.size(); ++i)
        out += fmt::format("<li>{}</li>\n", draw::escaped(answer[i]));
    return out + "</ul>\n";
}

std::string foot_words() {
    return fmt::format(
        "keyhour {}. Times are by the site's clock, to the whole minute: plan "
        "inside what holds at any bearing.",
        version());
}

/// On paper the foot stays with the last part: no sheet holds it alone.
std::string with_foot(const std::string& last_part) {
    return fmt::format("<div class=\"last\">\n{}<p class=\"foot\">{}</p>\n</div>\n", last_part,
                       foot_words());
}

std::string SheetPage::draw() {
    const site::Zone& zone = c_.location.site.zone;
    steps_ = slider_steps(c_);
    std::string out = head();
    out += fmt::format(
        "<header>\n<p class=\"kind\">Light sheet</p>\n<h1>{}</h1>\n<p>{}, clocks {} ({})</p>\n"
        "</header>\n<main>\n{}<p class=\"day-events\">{}</p>\n",
        draw::escaped(c_.location.site.name.empty() ? "Light sheet" : c_.location.site.name),
        draw::escaped(site::date_in_words(c_.day.strip.date)),
        site::utc_offset(zone.at(c_.day.strip.from + Seconds{43200}).utc_offset),
        draw::escaped(zone.name()), answer_html(sheet_answer(c_)), draw::escaped(day_line(c_)));
    const std::string papers = keys_section(c_) + section() + covers_section(c_) +
                               spots_section(c_) + lamps_section(c_) + hours_section(c_) +
                               timetable_section(c_);
    const std::string feet =
        cautions_section(c_) + with_foot(recce_section(c_)) + read_back_section(c_);
    const std::string drawings = strips() + plan();
    out += links_to(drawings + papers + feet);
    out += fmt::format("<div class=\"columns\">\n<div class=\"drawings {}\">\n{}</div>\n",
                       print_layout(), drawings) +
           "<div class=\"papers\">\n" + papers + "</div>\n<div class=\"feet\">\n" + feet +
           "</div>\n</div>\n</main>\n";
    out += fmt::format("<footer><p>{}</p></footer>\n", foot_words());
    out += slider_data(
        c_, steps_, {wide_plan_.scale, narrow_plan_.scale, wide_strip_.scale, narrow_strip_.scale});
    out += fmt::format("<script>{}</script>\n</body>\n</html>\n", page_script());
    return out;
}

/// The lock first.
std::vector<std::string> lamp_answer(const LampKey& key) {
    std::vector<std::string> parts{"Lamp key: " + lamp_key_who(key) + '.'};
    for (std::string sentence : lamp_key_sentences(key)) {
        sentence.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(sentence[0])));
        parts.push_back(sentence + '.');
    }
    if (parts.size() > 1) {
        parts[1] = parts[0] + ' ' + parts[1];
        parts.erase(parts.begin());
    }
    return parts;
}

std::string key_answer(const SheetContent& c, const study::KeyInterval& k) {
    const room::Room& room = c.room->room();
    const site::Zone& zone = c.location.site.zone;
    std::string text = fmt::format("{} at {} through {}, {} ({}), ",
                                   c.day.strip.planned ? "Sun key" : "Key", room.marks[k.mark].name,
                                   room.windows[k.window].name, words::clock_inward(*k.span, zone),
                                   words::in_minutes(words::promised_length(*k.span)));
    text += k.sure ? "at any bearing " + words::clock_inward(*k.sure, zone)
                   : "at no bearing but some within its doubt";
    text += "; with every doubt " + cases_words(study::doubt_of(c.day, k), zone);
    std::string covers;
    for (const study::CoverSpan& cover : k.to_cover)
        covers +=
            fmt::format("{}{} from {}", covers.empty() ? "; cover " : ", ",
                        room.windows[cover.window].name, words::minute_down(cover.from, zone));
    return text + covers + ".";
}

/// @pre no key exists at the stated bearing
std::string no_key_answer(const SheetContent& c) {
    if (c.room->room().marks.empty()) return "The room has no mark: no key to look for.";
    if (c.day.strip.day.state == study::DayState::sun_always_down)
        return "No clean key: the sun stays below the horizon on this date.";
    return c.day.strip.keys.empty()
               ? "No clean key on this date."
               : "No clean key at the bearing stated, only at some within its doubt.";
}

}  // namespace

std::vector<std::string> sheet_answer(const SheetContent& c) {
    const study::KeyInterval* best = study::best_key(c.day.strip);
    if (const auto lamp = lamp_key(c)) {
        auto parts = lamp_answer(*lamp);
        if (best) parts.push_back(key_answer(c, *best));
        return parts;
    }
    if (best) return {key_answer(c, *best)};
    const site::Zone& zone = c.location.site.zone;
    std::string text;
    if (c.room) text = no_key_answer(c);
    for (std::size_t i = 0; i < c.day.strip.spots.size(); ++i) {
        const study::SpotDay& spot = c.day.strip.spots[i];
        const study::SafeStart* start = study::longest(spot.for_wanted);
        if (!start || !start->latest) start = study::longest(spot.for_late_light);
        if (!start || !start->latest) continue;
        text += fmt::format("{}Light for {}, {}: set up by {}.", text.empty() ? "" : " ",
                            c.location.spots[i].name, words::clock_inward(start->light, zone),
                            words::minute_down(*start->latest, zone));
        break;
    }
    if (text.empty() && !c.location.spots.empty())
        text = "No light that a place outside wants on this date.";
    if (text.empty())
        text = c.location.room
                   ? "The room has no window: the day's events alone."
                   : "The file has no room and no place outside: the day's events alone.";
    return {text};
}

std::string sheet_page(const SheetContent& content) {
    return SheetPage{content}.draw();
}

}  // namespace keyhour::tell
