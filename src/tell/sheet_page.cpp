#include "sheet_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "document.hpp"
#include "doubt_documents.hpp"
#include "draw/plan_drawing.hpp"
#include "draw/section_drawing.hpp"
#include "draw/strip_drawing.hpp"
#include "draw/svg.hpp"
#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/timetable.hpp"
#include "keyhour/version.hpp"
#include "page_parts.hpp"
#include "sheet_sections.hpp"
#include "sheet_text.hpp"

namespace keyhour::tell {
namespace {

/// A desk's column and the left of the printed page; its letters stay legible there.
constexpr double wide_mm = 130;
constexpr double mm_per_m = 1000;

class SheetPage {
public:
    explicit SheetPage(const SheetContent& content) : c_{content} {}
    [[nodiscard]] std::string draw();

private:
    [[nodiscard]] std::string head() const;
    [[nodiscard]] std::string title() const;
    [[nodiscard]] std::string strips();
    [[nodiscard]] std::string plan();
    [[nodiscard]] std::string slider() const;
    [[nodiscard]] std::string reading() const;
    [[nodiscard]] std::string section() const;
    [[nodiscard]] std::string data() const;
    [[nodiscard]] std::size_t first_step() const;
    [[nodiscard]] std::string print_layout() const;
    void choose_steps();
    void add_changes();

    const SheetContent& c_;
    struct Shown {
        const study::SheetStep* step;
        Instant at;          ///< as the clock shows it
        std::string change;  ///< of light, in words; or nothing
    };
    std::vector<Shown> steps_;  ///< of the slider, ascending in time
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

std::string option(double value, bool chosen) {
    return fmt::format("<option{0}>{1:g}</option>", chosen ? " selected" : "", value);
}

/// The usual values and the one that is set.
std::string choice(const char* id, const char* label, std::vector<double> values, double set) {
    if (std::ranges::find(values, set) == values.end()) values.push_back(set);
    std::ranges::sort(values);
    std::string options;
    for (const double v : values)
        options += option(v, v == set);
    return fmt::format(
        "<label for=\"{0}\">{1} <select id=\"{0}\" autocomplete=\"off\">{2}</select></label>\n", id,
        label, options);
}

/// Roughly what a step takes up in the page, bytes.
double size_of(const study::SheetStep& step) {
    double sum = 130 + 80 * static_cast<double>(step.marks.size());
    for (const study::WindowPatch& p : step.now.patches) {
        sum += 85;
        for (const auto& ring : p.patch.outlines)
            sum += 3 + 11 * static_cast<double>(ring.size());
    }
    return sum;
}

/// All of the day's steps, or as many fewer, evenly, as a phone takes readily: many panes make
/// many outlines.
void SheetPage::choose_steps() {
    constexpr double most_bytes = 200e3;
    double bytes_of_changes = 0;
    for (const study::SheetChange& change : c_.day.changes)
        bytes_of_changes += size_of(change.step);
    for (const int stride : {1, 2, 3, 4, 6, 12}) {
        steps_.clear();
        double bytes = bytes_of_changes;
        for (const study::SheetStep& step : c_.day.steps) {
            const auto since = std::lround((step.now.at - c_.day.strip.from) / study::sheet_step);
            if (since % stride != 0) continue;
            steps_.push_back({&step, step.now.at, {}});
            bytes += size_of(step);
        }
        if (bytes <= most_bytes) break;
    }
    add_changes();
}

std::string change_in_words(const study::LightChange& c, const room::Room& room) {
    using Kind = study::LightChange::Kind;
    const std::string& window = room.windows[c.window].name;
    const std::string key = c.mark ? room.marks[*c.mark].name + " through " + window : window;
    switch (c.kind) {
        case Kind::sun_in:
            return (c.is_first_or_last ? "first sun in, through " : "sun comes in through ") +
                   window;
        case Kind::key_begins:
            return "key begins: " + key;
        case Kind::floor_reached:
            return "patch of " + window + " reaches the floor";
        case Kind::floor_left:
            return "patch of " + window + " leaves the floor";
        case Kind::key_ends:
            return "key ends: " + key;
        case Kind::sun_out:
            break;
    }
    return (c.is_first_or_last ? "last sun in, through " : "sun leaves ") + window;
}

/// Each at its own minute, in place of a plain step of that minute.
void SheetPage::add_changes() {
    for (const study::SheetChange& change : c_.day.changes) {
        std::string words;
        for (const study::LightChange& one : change.changes)
            words += (words.empty() ? "" : "; ") + change_in_words(one, c_.room->room());
        const Instant minute = whole_minute(change.at, Minute::nearest);
        std::erase_if(steps_, [&](const Shown& s) { return s.at == minute && s.change.empty(); });
        steps_.push_back({&change.step, change.at, words});
    }
    std::ranges::stable_sort(steps_, {}, &Shown::at);
}

/// Where the slider stands at first: the middle of the best key, else the highest sun.
std::size_t SheetPage::first_step() const {
    if (steps_.empty()) return 0;
    const study::KeyInterval* key = study::best_key(c_.day.strip);
    const auto worth = [&](const Shown& s) {
        return key ? -std::abs((s.at - (key->span->from + 0.5 * key->span->length())).count())
                   : s.step->now.sun.apparent_altitude.above_horizon.in_degrees();
    };
    const auto best = std::ranges::max_element(steps_, {}, worth);
    return static_cast<std::size_t>(best - steps_.begin());
}

std::string SheetPage::slider() const {
    if (steps_.empty()) return {};
    return fmt::format(
        "<div class=\"slider screen\" id=\"now\" hidden>\n"
        "<output class=\"now-clock\" id=\"now-clock\" for=\"now-slider\"></output>\n"
        "<p class=\"now-change\" id=\"now-change\"></p>\n"
        "<label for=\"now-slider\">Time of day</label>\n"
        "<input type=\"range\" id=\"now-slider\" min=\"0\" max=\"{0}\" step=\"1\" value=\"{1}\" "
        "autocomplete=\"off\">\n"
        "<div class=\"buttons\">\n"
        "<button type=\"button\" id=\"now-before\" aria-keyshortcuts=\"PageDown\">Change "
        "before</button>\n"
        "<button type=\"button\" id=\"now-after\" aria-keyshortcuts=\"PageUp\">Next "
        "change</button>\n</div>\n</div>\n",
        steps_.size() - 1, first_step());
}

/// What follows the slider, below the plan: a phone shows slider and plan together.
std::string SheetPage::reading() const {
    if (c_.day.steps.empty()) return {};
    const light::Exposure& e = c_.camera.exposure;
    // Level and stop are a mark's.
    const bool has_mark = !c_.room->room().marks.empty();
    const char* at_mark =
        "<dt>Level</dt><dd id=\"now-level\"></dd>\n<dt>Stop</dt><dd id=\"now-stop\"></dd>\n";
    const char* brackets =
        "In brackets: air alone, one class clearer to one hazier, under a clear sky. ";
    const std::string camera =
        choice("now-iso", "ISO", {100, 200, 400, 800, 1600, 3200, 6400}, e.iso) +
        choice("now-fps", "frames a second", {24, 25, 30, 48, 50, 60, 100, 120}, e.fps) +
        choice("now-shutter", "shutter, degrees", {45, 90, 144, 172.8, 180, 216, 270, 360},
               e.shutter_deg);
    return fmt::format(
        "<div class=\"reading screen\" id=\"now-reading\" hidden>\n"
        "<dl class=\"now-figures\">\n"
        "<dt>Sun</dt><dd id=\"now-sun\"></dd>\n{}"
        "<dt>Patches</dt><dd id=\"now-patches\"></dd>\n</dl>\n"
        "<p class=\"note\">{}Edge within: in 9 of 10 cases, the room with every figure moved "
        "within "
        "its doubt.</p>\n{}"
        "<label for=\"now-hours\"><input type=\"checkbox\" id=\"now-hours\" checked "
        "autocomplete=\"off\"> patches of the hours on the plan</label>\n</div>\n",
        has_mark ? at_mark : "", has_mark ? brackets : "",
        has_mark ? "<div class=\"camera-set\" role=\"group\" aria-label=\"Camera setting for the "
                   "stop\">\n" +
                       camera + "</div>\n"
                 : std::string{});
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
    const draw::PlanContent content{c_.day.strip.date, c_.plan_hours, c_.day.strip.covers};
    wide_plan_ =
        draw::draw_plan(c_.there, c_.room, content, {wide_mm, "plan-wide", true, c_.units});
    narrow_plan_ = draw::draw_plan(c_.there, c_.room, content,
                                   {draw::phone_width_mm, "plan-narrow", true, c_.units});
    return page_section("plan", "Plan",
                        slider() + both_widths("plan", wide_plan_.svg, narrow_plan_.svg) +
                            numbers_list(wide_plan_.numbered, "wide") +
                            numbers_list(narrow_plan_.numbered, "narrow") + reading());
}

std::string SheetPage::section() const {
    if (!c_.room) return {};
    const room::Room& room = c_.room->room();
    const study::KeyInterval* key = study::best_key(c_.day.strip);
    draw::SectionContent content{c_.day.strip.date, 0, 0, {}, draw::stands_of(c_.location)};
    bool found = key != nullptr;
    if (key) {
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
    if (!key)
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

/// Seen from above; a patch on a wall becomes the line that it takes up along it.
Json ring_mm(const std::vector<room::Point3>& ring, bool on_wall) {
    const auto mm = [](double m) { return static_cast<int>(std::lround(m * mm_per_m)); };
    Json out = Json::array();
    if (on_wall) {
        const auto along = [](const room::Point3& a, const room::Point3& b) {
            return std::pair{a.x, a.y} < std::pair{b.x, b.y};
        };
        const auto [first, last] = std::ranges::minmax(ring, along);
        for (const double v : {first.x, first.y, last.x, last.y})
            out.push_back(mm(v));
        return out;
    }
    for (const room::Point3& p : ring) {
        out.push_back(mm(p.x));
        out.push_back(mm(p.y));
    }
    return out;
}

/// An index into a list of names that grows as it is asked.
std::size_t index_in(Json& names, const std::string& name) {
    for (std::size_t i = 0; i < names.size(); ++i)
        if (names[i] == name) return i;
    names.push_back(name);
    return names.size() - 1;
}

Json plan_json(const draw::PlanScale& s, const char* id) {
    return {{"id", id},
            {"mm_per_m", rounded(s.mm_per_m, 5)},
            {"left_mm", rounded(s.left_mm, 4)},
            {"top_mm", rounded(s.top_mm, 4)}};
}

Json strip_json(const draw::StripScale& s, const char* id) {
    return {{"id", id},
            {"left_mm", rounded(s.left_mm, 2)},
            {"mm_per_h", rounded(s.mm_per_h, 4)},
            {"top_mm", rounded(s.top_mm, 2)},
            {"bottom_mm", rounded(s.bottom_mm, 2)}};
}

std::string SheetPage::data() const {
    if (steps_.empty()) return {};
    const room::Room& room = c_.room->room();
    const site::Zone& zone = c_.location.site.zone;
    Json j;
    j["meter_constant"] = c_.camera.exposure.meter_constant;
    j["feet"] = c_.units == site::Units::feet;
    j["plans"] = Json::array(
        {plan_json(wide_plan_.scale, "plan-wide"), plan_json(narrow_plan_.scale, "plan-narrow")});
    j["strips"] = Json::array({strip_json(wide_strip_.scale, "strip-wide"),
                               strip_json(narrow_strip_.scale, "strip-narrow")});
    j["windows"] = Json::array();
    for (const room::Window& w : room.windows)
        j["windows"].push_back(w.name);
    j["marks"] = Json::array();
    for (const room::Mark& m : room.marks)
        j["marks"].push_back(m.name);
    j["surfaces"] = Json::array();
    Json steps = Json::array();
    for (const Shown& shown : steps_) {
        const study::SheetStep& step = *shown.step;
        Json s;
        s["clock"] = step_clock(shown.at, zone, !c_.day.strip.clock_changes.empty());
        if (!shown.change.empty()) s["change"] = shown.change;
        s["hours"] = rounded((shown.at - wide_strip_.scale.from).count() / 3600, 4);
        s["bearing_deg"] = rounded_turn(step.now.sun.azimuth.from_north, 3);
        s["compass"] = site::compass_letters(step.now.sun.azimuth);
        s["altitude_deg"] = rounded(step.now.sun.apparent_altitude.above_horizon.in_degrees(), 3);
        s["patches"] = Json::array();
        for (std::size_t i = 0; i < step.now.patches.size(); ++i) {
            const study::WindowPatch& p = step.now.patches[i];
            const std::optional<double> band_m = step.edge_bands_m[i];
            Json rings = Json::array();
            for (const auto& ring : p.patch.outlines)
                rings.push_back(ring_mm(ring, p.patch.surface.kind == room::Surface::Kind::wall));
            s["patches"].push_back(
                {{"surface", index_in(j["surfaces"], room::words(p.patch.surface, room))},
                 {"window", p.window},
                 {"area_m2", rounded(p.patch.area_m2, 4)},
                 {"edge_within_m", band_m ? Json(rounded(*band_m, 4)) : Json(nullptr)},
                 {"rings_mm", rings}});
        }
        s["marks"] = Json::array();
        for (const study::MarkReading& m : step.marks)
            s["marks"].push_back({{"window", m.window},
                                  {"coverage", rounded(m.coverage, 4)},
                                  {"level_lx",
                                   {rounded(m.level_lx.low, 1), rounded(m.level_lx.likely, 1),
                                    rounded(m.level_lx.high, 1)}}});
        steps.push_back(std::move(s));
    }
    j["steps"] = std::move(steps);
    return fmt::format("<script type=\"application/json\" id=\"sheet-data\">{}</script>\n",
                       json_in_page(json_text(j)));
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

std::string SheetPage::draw() {
    const site::Zone& zone = c_.location.site.zone;
    choose_steps();
    std::string out = head();
    out += fmt::format(
        "<header>\n<p class=\"kind\">Light sheet</p>\n<h1>{}</h1>\n<p>{}, clocks {} ({})</p>\n"
        "</header>\n<main>\n<p class=\"answer\" id=\"answer\">{}</p>\n<p "
        "class=\"day-events\">{}</p>\n",
        draw::escaped(c_.location.site.name.empty() ? "Light sheet" : c_.location.site.name),
        draw::escaped(site::date_in_words(c_.day.strip.date)),
        site::utc_offset(zone.at(c_.day.strip.from + Seconds{43200}).utc_offset),
        draw::escaped(zone.name()), draw::escaped(sheet_answer(c_)), draw::escaped(day_line(c_)));
    const std::string papers = keys_section(c_) + section() + covers_section(c_) +
                               spots_section(c_) + lamps_section(c_) + hours_section(c_) +
                               timetable_section(c_);
    const std::string feet = cautions_section(c_) + recce_section(c_) + read_back_section(c_);
    const std::string drawings = strips() + plan();
    out += links_to(drawings + papers + feet);
    out += fmt::format("<div class=\"columns\">\n<div class=\"drawings {}\">\n{}</div>\n",
                       print_layout(), drawings) +
           "<div class=\"papers\">\n" + papers + "</div>\n<div class=\"feet\">\n" + feet +
           "</div>\n</div>\n</main>\n";
    out += fmt::format(
        "<footer><p>keyhour {}. Times are by the site's clock, to the whole minute: "
        "plan inside what is sure.</p></footer>\n",
        version());
    out += data();
    out += fmt::format("<script>{}</script>\n</body>\n</html>\n", page_script());
    return out;
}

std::string key_answer(const SheetContent& c, const study::KeyInterval& k) {
    const room::Room& room = c.room->room();
    const site::Zone& zone = c.location.site.zone;
    std::string text = fmt::format("Key at {} through {}, {} ({}), ", room.marks[k.mark].name,
                                   room.windows[k.window].name, span_text(*k.span, zone),
                                   length_text(told_length(*k.span)));
    text += k.sure ? "sure " + span_inward(*k.sure, zone) : "never sure within the bearing's doubt";
    text += "; with all doubts " + brief_words(study::doubt_of(c.day, k));
    std::string covers;
    for (const study::CoverSpan& cover : k.to_cover)
        covers += fmt::format("{}{} from {}", covers.empty() ? "; cover " : ", ",
                              room.windows[cover.window].name, by_text(cover.from, zone));
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

std::string sheet_answer(const SheetContent& c) {
    if (const study::KeyInterval* key = study::best_key(c.day.strip)) return key_answer(c, *key);
    const site::Zone& zone = c.location.site.zone;
    std::string text;
    if (c.room) text = no_key_answer(c);
    for (std::size_t i = 0; i < c.day.strip.spots.size(); ++i) {
        const study::SpotDay& spot = c.day.strip.spots[i];
        const study::SafeStart* start = study::longest(spot.for_wanted);
        if (!start || !start->latest) start = study::longest(spot.for_late_light);
        if (!start || !start->latest) continue;
        text += fmt::format("{}Light for {}, {}: start by {}.", text.empty() ? "" : " ",
                            c.location.spots[i].name, span_inward(start->light, zone),
                            by_text(*start->latest, zone));
        break;
    }
    if (text.empty() && !c.location.spots.empty())
        text = "No light that a place outside wants on this date.";
    if (text.empty())
        text = c.location.room
                   ? "The room has no window: the day's events alone."
                   : "The file has no room and no place outside: the day's events alone.";
    return text;
}

std::string sheet_page(const SheetContent& content) {
    return SheetPage{content}.draw();
}

}  // namespace keyhour::tell
