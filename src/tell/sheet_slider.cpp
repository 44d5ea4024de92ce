#include "sheet_slider.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "document.hpp"
#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "sheet_text.hpp"

namespace keyhour::tell {
namespace {

constexpr double mm_per_m = 1000;

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
void add_changes(const SheetContent& c, std::vector<ShownStep>& steps) {
    for (const study::SheetChange& change : c.day.changes) {
        std::string words;
        for (const study::LightChange& one : change.changes)
            words += (words.empty() ? "" : "; ") + change_in_words(one, c.room->room());
        const Instant minute = whole_minute(change.at, Minute::nearest);
        std::erase_if(steps,
                      [&](const ShownStep& s) { return s.at == minute && s.change.empty(); });
        steps.push_back({&change.step, change.at, words});
    }
    std::ranges::stable_sort(steps, {}, &ShownStep::at);
}

/// Where the slider stands at first: the middle of the best key, else the highest sun.
std::size_t first_step(const SheetContent& c, const std::vector<ShownStep>& steps) {
    if (steps.empty()) return 0;
    const study::KeyInterval* key = study::best_key(c.day.strip);
    const auto worth = [&](const ShownStep& s) {
        return key ? -std::abs((s.at - (key->span->from + 0.5 * key->span->length())).count())
                   : s.step->now.sun.apparent_altitude.above_horizon.in_degrees();
    };
    const auto best = std::ranges::max_element(steps, {}, worth);
    return static_cast<std::size_t>(best - steps.begin());
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

Json patches_json(const study::SheetStep& step, const room::Room& room, Json& surfaces) {
    Json out = Json::array();
    for (std::size_t i = 0; i < step.now.patches.size(); ++i) {
        const study::WindowPatch& p = step.now.patches[i];
        const std::optional<double> band_m = step.edge_bands_m[i];
        Json rings = Json::array();
        for (const auto& ring : p.patch.outlines)
            rings.push_back(ring_mm(ring, p.patch.surface.kind == room::Surface::Kind::wall));
        out.push_back({{"surface", index_in(surfaces, room::words(p.patch.surface, room))},
                       {"window", p.window},
                       {"area_m2", rounded(p.patch.area_m2, 4)},
                       {"edge_within_m", band_m ? Json(rounded(*band_m, 4)) : Json(nullptr)},
                       {"rings_mm", rings}});
    }
    return out;
}

Json marks_json(const study::SheetStep& step) {
    Json out = Json::array();
    for (const study::MarkReading& m : step.marks)
        out.push_back({{"window", m.window},
                       {"coverage", rounded(m.coverage, 4)},
                       {"level_lx",
                        {rounded(m.level_lx.low, 1), rounded(m.level_lx.likely, 1),
                         rounded(m.level_lx.high, 1)}}});
    return out;
}

/// @param surfaces  names, to which those of this step are added
Json step_json(const SheetContent& c, const ShownStep& shown, Instant from, Json& surfaces) {
    const study::SheetStep& step = *shown.step;
    Json s;
    s["clock"] = step_clock(shown.at, c.location.site.zone, !c.day.strip.clock_changes.empty());
    if (!shown.change.empty()) s["change"] = shown.change;
    s["hours"] = rounded((shown.at - from).count() / 3600, 4);
    s["bearing_deg"] = rounded_turn(step.now.sun.azimuth.from_north, 3);
    s["compass"] = site::compass_letters(step.now.sun.azimuth);
    s["altitude_deg"] = rounded(step.now.sun.apparent_altitude.above_horizon.in_degrees(), 3);
    s["patches"] = patches_json(step, c.room->room(), surfaces);
    s["marks"] = marks_json(step);
    return s;
}

}  // namespace

std::vector<ShownStep> slider_steps(const SheetContent& c) {
    std::vector<ShownStep> steps;
    constexpr double most_bytes = 200e3;
    double bytes_of_changes = 0;
    for (const study::SheetChange& change : c.day.changes)
        bytes_of_changes += size_of(change.step);
    for (const int stride : {1, 2, 3, 4, 6, 12}) {
        steps.clear();
        double bytes = bytes_of_changes;
        for (const study::SheetStep& step : c.day.steps) {
            const auto since = std::lround((step.now.at - c.day.strip.from) / study::sheet_step);
            if (since % stride != 0) continue;
            steps.push_back({&step, step.now.at, {}});
            bytes += size_of(step);
        }
        if (bytes <= most_bytes) break;
    }
    add_changes(c, steps);
    return steps;
}

std::string slider(const SheetContent& c, const std::vector<ShownStep>& steps) {
    if (steps.empty()) return {};
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
        steps.size() - 1, first_step(c, steps));
}

std::string slider_reading(const SheetContent& c) {
    if (c.day.steps.empty()) return {};
    const light::Exposure& e = c.camera.exposure;
    // Level and stop are a mark's.
    const bool has_mark = !c.room->room().marks.empty();
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
        "<p class=\"note\">Grey on the plan: where the sun falls at the slider's time.</p>\n"
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

std::string slider_data(const SheetContent& c, const std::vector<ShownStep>& steps,
                        const SliderDrawings& drawings) {
    if (steps.empty()) return {};
    Json j;
    j["meter_constant"] = c.camera.exposure.meter_constant;
    j["feet"] = c.units == site::Units::feet;
    j["plans"] = Json::array({plan_json(drawings.wide_plan, "plan-wide"),
                              plan_json(drawings.narrow_plan, "plan-narrow")});
    j["strips"] = Json::array({strip_json(drawings.wide_strip, "strip-wide"),
                               strip_json(drawings.narrow_strip, "strip-narrow")});
    j["windows"] = Json::array();
    for (const room::Window& w : c.room->room().windows)
        j["windows"].push_back(w.name);
    j["marks"] = Json::array();
    for (const room::Mark& m : c.room->room().marks)
        j["marks"].push_back(m.name);
    j["surfaces"] = Json::array();
    j["steps"] = Json::array();
    for (const ShownStep& shown : steps)
        j["steps"].push_back(step_json(c, shown, drawings.wide_strip.from, j["surfaces"]));
    return fmt::format("<script type=\"application/json\" id=\"sheet-data\">{}</script>\n",
                       json_in_page(json_text(j)));
}

}  // namespace keyhour::tell
