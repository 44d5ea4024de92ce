#include "sheet_sections.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "cautions.hpp"
#include "doubt_documents.hpp"
#include "draw/svg.hpp"
#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/read_back.hpp"
#include "keyhour/study/light_drift.hpp"
#include "keyhour/study/light_side.hpp"
#include "keyhour/study/timetable.hpp"
#include "sheet_text.hpp"
#include "tell/light_lines.hpp"
#include "words/length.hpp"

namespace keyhour::tell {
namespace {

using Rows = std::vector<std::string>;

std::string table(const Rows& head, const std::string& rows) {
    if (rows.empty()) return {};
    std::string cells;
    for (const std::string& h : head)
        cells += fmt::format("<th scope=\"col\">{}</th>", draw::escaped(h));
    return fmt::format("<table>\n<thead><tr>{}</tr></thead>\n<tbody>\n{}</tbody>\n</table>\n",
                       cells, rows);
}

/// @param cells  HTML; the first names the row
std::string row(const Rows& cells) {
    std::string out = "<tr>";
    for (std::size_t i = 0; i < cells.size(); ++i)
        out += i == 0 ? fmt::format("<th scope=\"row\">{}</th>", cells[i])
                      : fmt::format("<td>{}</td>", cells[i]);
    return out + "</tr>\n";
}

std::string below(const std::string& text) {
    return text.empty() ? std::string{}
                        : fmt::format("<span class=\"below\">{}</span>", draw::escaped(text));
}

/// A name that may be broken anywhere, so that a long one pushes nothing aside.
std::string name_cell(const std::string& text) {
    return fmt::format("<span class=\"name\">{}</span>", draw::escaped(text));
}

/// Times that stay on one line.
std::string times(const std::string& text) {
    return fmt::format("<span class=\"time\">{}</span>", draw::escaped(text));
}

std::string note(const std::string& text) {
    return fmt::format("<p class=\"note\">{}</p>\n", draw::escaped(text));
}

const site::Zone& zone_of(const SheetContent& c) {
    return c.location.site.zone;
}

/// "21 to 34 klx" by way of the page's words: at start and end.
std::string both(const std::string& a, const std::string& b) {
    return a == b ? a : a + ", then " + b;
}

std::string whole_degrees(double a, double b) {
    const std::string from = fmt::format("{:.0f}", a), to = fmt::format("{:.0f}", b);
    return from == to ? from : from + " to " + to;
}

/// What is told below a key's name.
std::string about_key(const SheetContent& c, const study::KeyInterval& k) {
    if (!k.span) return "only at some bearing within the stated doubt";
    const room::Room& room = c.room->room();
    std::string text = fmt::format("begins by {}, ends by {}", room::words(k.begins_by, room),
                                   room::words(k.ends_by, room));
    if (k.camera)
        text += fmt::format("; key angle {} to camera {}, {}",
                            whole_degrees(k.key_angle_deg[0], k.key_angle_deg[1]),
                            room.cameras[*k.camera].name,
                            study::light_side_in_words(k.light_from_right));
    text +=
        fmt::format("; sun {} degrees high", whole_degrees(k.altitude_deg[0], k.altitude_deg[1]));
    return text;
}

/// What every figure's doubt together makes of a key.
std::string doubt_of_key(const SheetContent& c, const study::KeyInterval& k) {
    const study::HoldDoubt& doubt = study::doubt_of(c.day, k);
    std::string text = "with all doubts: " + words(doubt);
    if (doubt.share > 0)
        text += fmt::format("; starts {}, ends {}", span_outward(doubt.begins, zone_of(c)),
                            span_outward(doubt.ends, zone_of(c)));
    return text;
}

std::string light_of_key(const SheetContent& c, const study::RoomLight& light,
                         const study::KeyInterval& k) {
    if (!k.span) return {};
    const study::LightDrift d =
        study::drift(light, c.room->path(), k.mark, k.window, k.span->from, k.span->to);
    const double start = d.at_start.with_key_lx(), end = d.at_end.with_key_lx();
    std::string text =
        fmt::format("{}; {}", level_in_brief(d),
                    both(stop_text(start, c.camera.exposure), stop_text(end, c.camera.exposure)));
    if (d.at_start.key_to_fill_stops && d.at_end.key_to_fill_stops)
        text += fmt::format("; key to fill {} stops",
                            both(fmt::format("{:.1f}", d.at_start.key_to_fill_stops->likely),
                                 fmt::format("{:.1f}", d.at_end.key_to_fill_stops->likely)));
    if (d.at_start.key_kelvin && d.at_end.key_kelvin)
        text += fmt::format(
            "; {} K", both(fmt::format("{:.0f}", std::round(*d.at_start.key_kelvin / 100) * 100),
                           fmt::format("{:.0f}", std::round(*d.at_end.key_kelvin / 100) * 100)));
    if (const auto& wish = c.camera.wish)
        text += fmt::format("; {:+.1f} stops from the stop wanted",
                            study::weakest_stops(d, *wish).likely);
    return text;
}

std::string exposure_words(const light::Exposure& e) {
    return fmt::format("Stops at ISO {:g}, {:g} frames a second, shutter {:g} degrees, clear sky.",
                       e.iso, e.fps, e.shutter_deg);
}

}  // namespace

std::string page_section(const char* id, const std::string& title, const std::string& body,
                         const char* css_class) {
    if (body.empty()) return {};
    return fmt::format(
        "<section aria-labelledby=\"{0}\"{1}>\n<h2 id=\"{0}\">{2}</h2>\n{3}</section>\n", id,
        *css_class ? fmt::format(" class=\"{}\"", css_class) : "", draw::escaped(title), body);
}

namespace {

/// One key: its name, its times under the heads, what is told about it; a body of the table.
std::string key_rows(const SheetContent& c, const study::RoomLight& light,
                     const study::KeyInterval& k) {
    const room::Room& room = c.room->room();
    const site::Zone& zone = zone_of(c);
    const std::string none = "none";
    return fmt::format(
        "<tbody>\n<tr><th scope=\"rowgroup\" colspan=\"3\">{}</th></tr>\n"
        "<tr class=\"figures\"><td>{}</td><td>{}</td><td>{}</td></tr>\n"
        "<tr><td colspan=\"3\" class=\"told\">{}{}{}</td></tr>\n</tbody>\n",
        draw::escaped(room.marks[k.mark].name + " through " + room.windows[k.window].name),
        k.span ? times(span_text(*k.span, zone)) + below(length_text(told_length(*k.span))) : none,
        k.sure ? times(span_inward(*k.sure, zone)) + below(length_text(promised_length(*k.sure)))
               : none,
        times(span_outward(k.possible, zone)), below(doubt_of_key(c, k)), below(about_key(c, k)),
        below(light_of_key(c, light, k)));
}

std::string keys_table(const SheetContent& c) {
    if (c.day.strip.keys.empty()) return {};
    std::string out =
        "<table class=\"keys\">\n<thead><tr><th scope=\"col\">Stated</th><th "
        "scope=\"col\">Sure</th>"
        "<th scope=\"col\">Possible</th></tr></thead>\n";
    const study::RoomLight light{*c.room};
    for (const study::KeyInterval& k : c.day.strip.keys)
        out += key_rows(c, light, k);
    return out + "</table>\n";
}

/// Why there is none: first where the sun came nearest. Windows that fail a mark for one reason
/// stand together.
std::string misses_table(const SheetContent& c) {
    const room::Room& room = c.room->room();
    std::vector<study::NearestMiss> misses = c.day.misses;
    std::ranges::stable_partition(misses, [](const auto& m) { return m.at.has_value(); });
    struct Group {
        std::size_t mark;
        std::string reason, windows;
    };
    std::vector<Group> groups;
    for (const study::NearestMiss& m : misses) {
        auto group = std::ranges::find_if(
            groups, [&](const Group& g) { return g.mark == m.mark && g.reason == m.reason; });
        if (group == groups.end()) group = groups.insert(group, {m.mark, m.reason, {}});
        group->windows += (group->windows.empty() ? "" : ", ") + room.windows[m.window].name;
        if (m.at) group->windows += ", nearest at " + site::whole_minutes(*m.at, zone_of(c));
    }
    std::string rows;
    for (const Group& g : groups)
        rows += row({draw::escaped(room.marks[g.mark].name),
                     name_cell(g.reason) + "<span class=\"below name\">" +
                         draw::escaped("through " + g.windows) + "</span>"});
    return table({"Key", "Why not"}, rows);
}

}  // namespace

std::string keys_section(const SheetContent& c) {
    if (!c.room) return {};
    const room::Room& room = c.room->room();
    std::string body = keys_table(c);
    if (body.empty()) {
        body = "<p>No clean key on this date.</p>\n" + misses_table(c);
    }
    if (room.marks.empty()) body = "<p>The room has no mark.</p>\n";
    if (!c.day.strip.keys.empty())
        body += note(fmt::format(
            "Stated: at the bearing measured. Sure: at every bearing within {:g} degrees of it. "
            "Possible: at some. Cases: the room with every figure moved within its doubt. {}",
            room.bearing.within.in_degrees(), exposure_words(c.camera.exposure)));
    return page_section("keys", "Keys, best first", body);
}

namespace {

/// What a window's cloth is for, by the sun that may come through it while the best key holds.
std::string purpose(const SheetContent& c, std::size_t window) {
    const room::Room& room = c.room->room();
    std::set<std::size_t> marks, cameras;
    for (const study::Leak& leak : c.day.lock->leaks) {
        if (leak.window != window) continue;
        marks.insert(leak.marks.begin(), leak.marks.end());
        cameras.insert(leak.cameras.begin(), leak.cameras.end());
    }
    std::string text;
    for (const std::size_t m : marks)
        text += (text.empty() ? "sun on " : ", ") + room.marks[m].name;
    std::string frames;
    for (const std::size_t k : cameras)
        frames += (frames.empty() ? "in frame of camera " : ", ") + room.cameras[k].name;
    if (!frames.empty()) text += (text.empty() ? "sun " : "; ") + frames;
    if (!text.empty()) return text;
    return room.cameras.empty() ? "sun in the room" : "sun in the room, in no camera's frame";
}

/// Broken before the height, where a table has no room. Cloth and opening are rounded up.
std::string size_cell(const SheetContent& c, double width_m, double height_m) {
    const std::string size = words::size(width_m, height_m, c.units, words::Rounding::up);
    const std::size_t cross = size.find(" x ");
    return times(size.substr(0, cross)) + ' ' + times(size.substr(cross + 1));
}

std::string cloth_table(const SheetContent& c) {
    if (!c.day.lock) return {};
    const double more = 2 * c.rigging.overlap_m;
    std::string rows;
    for (const study::CoverToHang& cover : c.day.lock->covers)
        rows += row({draw::escaped(c.room->room().windows[cover.window].name) +
                         below(purpose(c, cover.window)),
                     size_cell(c, cover.width_m, cover.height_m),
                     size_cell(c, cover.width_m + more, cover.height_m + more),
                     by_text(cover.sure_by, zone_of(c))});
    if (rows.empty())
        return note("No cloth to cut: no other opening lets sun in while the best key holds.");
    return "<h3>Cloth, cut to size</h3>\n" +
           table({"Window", "Opening", "Cloth", "Hang by"}, rows) +
           note(fmt::format(
               "So that the key's window alone lets sun into the room while the best key holds: "
               "more than the key itself needs. Width x height; cloth: the opening and {} on every "
               "side. Hang by: first sun at any bearing within the doubt.",
               words::length(c.rigging.overlap_m, c.units)));
}

/// "The key comes through case window: leave it open."
std::string key_window_words(const SheetContent& c, const study::KeyInterval& best) {
    return fmt::format("The {}key comes through {}: leave it open.",
                       c.day.strip.keys.size() > 1 ? "best " : "",
                       c.room->room().windows[best.window].name);
}

/// Which windows the best key itself needs covered.
std::string needs_of_key(const SheetContent& c, const study::KeyInterval& best) {
    std::set<std::size_t> windows;
    for (const study::CoverSpan& cover : best.to_cover)
        windows.insert(cover.window);
    if (windows.empty())
        return fmt::format(
            "For the key itself nothing must be covered: the sun of no other window comes within "
            "{} of {}.",
            words::length(study::KeySettings{}.near_m, c.units, 1),
            c.room->room().marks[best.mark].name);
    std::string names;
    for (const std::size_t w : windows)
        names += (names.empty() ? "" : ", ") + c.room->room().windows[w].name;
    return "For the key itself must be covered: " + names + ".";
}

std::string needs_table(const SheetContent& c, const study::KeyInterval* best) {
    std::string rows;
    for (const study::CoverNeed& need : c.day.strip.covers) {
        const bool is_key_window = best && best->window == need.window;
        rows += row(
            {draw::escaped(c.room->room().windows[need.window].name) +
                 below(is_key_window ? "for another key: not while the best one holds" : ""),
             times(span_outward(need.span, zone_of(c))), length_text(covered_length(need.span))});
    }
    std::string out = table({"Window", "Covered from, to", "Length"}, rows);
    if (!out.empty() && c.day.strip.keys.size() > 1)
        out += note("What each of the keys listed needs, taken together.");
    return out;
}

}  // namespace

std::string covers_section(const SheetContent& c) {
    if (!c.room) return {};
    const study::KeyInterval* best = study::best_key(c.day.strip);
    std::string body;
    if (best)
        body = fmt::format("<p>{} {}</p>\n", draw::escaped(key_window_words(c, *best)),
                           draw::escaped(needs_of_key(c, *best)));
    body += needs_table(c, best) + cloth_table(c);
    return page_section("covers", "To cover", body);
}

namespace {

/// The whole hours at which the sun is up.
std::vector<const study::SheetStep*> whole_hours(const SheetContent& c) {
    std::vector<const study::SheetStep*> out;
    for (const study::SheetStep& step : c.day.steps)
        if (site::whole_minutes(step.now.at, zone_of(c)).ends_with(":00")) out.push_back(&step);
    return out;
}

}  // namespace

std::string hours_section(const SheetContent& c) {
    if (!c.room) return {};
    const study::KeyInterval* best = study::best_key(c.day.strip);
    const std::size_t mark = best ? best->mark : 0;
    const bool has_mark = !c.room->room().marks.empty();
    const std::vector<const study::SheetStep*> hours = whole_hours(c);
    std::string rows;
    for (const study::SheetStep* hour : hours) {
        const study::SheetStep& step = *hour;
        Rows cells{
            site::whole_minutes(step.now.at, zone_of(c)),
            fmt::format("{:.1f} {}", step.now.sun.azimuth.from_north.in_degrees(),
                        site::compass_letters(step.now.sun.azimuth)),
            fmt::format("{:.1f}", step.now.sun.apparent_altitude.above_horizon.in_degrees())};
        if (has_mark) {
            const study::MarkReading& m = step.marks[mark];
            cells.push_back(
                times(m.coverage > 0 ? fmt::format("{:.0f} %", 100 * m.coverage) : "none"));
            cells.push_back(times(level_text(m.level_lx.likely)));
            cells.push_back(times(stop_text(m.level_lx.likely, c.camera.exposure)));
        }
        rows += row(cells);
    }
    Rows head{"Time", "Sun bearing, true", "Sun altitude"};
    if (has_mark)
        for (const char* h : {"Lit", "Level", "Stop"})
            head.emplace_back(h);
    std::string body = table(head, rows);
    if (!body.empty() && has_mark)
        body +=
            note(fmt::format("Lit: the share of {} that the sun reaches. Level: key and fill "
                             "together, on a flat receptor turned to the "
                             "brightest window. {}",
                             c.room->room().marks[mark].name, exposure_words(c.camera.exposure)));
    return page_section("hours", "Hour by hour", body);
}

namespace {

/// Between which times direct light comes and goes.
std::string ends_text(const study::SpotEnsemble::Ends& ends, const site::Zone& zone) {
    std::string text;
    if (ends.begins) text = "begins " + span_outward(*ends.begins, zone);
    if (ends.ends) text += (text.empty() ? "ends " : ", ends ") + span_outward(*ends.ends, zone);
    return text;
}

}  // namespace

std::string spots_section(const SheetContent& c) {
    std::string rows;
    const site::Zone& zone = zone_of(c);
    const auto direct = [&](std::size_t spot) {
        std::string out;
        const std::vector<study::DirectSpan>& spans = c.day.strip.spots[spot].direct;
        for (std::size_t i = 0; i < spans.size(); ++i)
            out += (out.empty() ? "" : "<br>") + times(span_inward(spans[i].span, zone)) +
                   below(ends_text(c.day.spot_ends[spot][i], zone));
        return out.empty() ? std::string{"none"} : out;
    };
    const auto start = [&](const std::vector<study::SafeStart>& starts) {
        const study::SafeStart* longest = study::longest(starts);
        if (!longest) return std::string{"none"};
        return times(span_inward(longest->light, zone)) +
               below(longest->latest ? "start by " + by_text(*longest->latest, zone)
                                     : "too short for the shot");
    };
    for (std::size_t i = 0; i < c.day.strip.spots.size(); ++i) {
        const study::SpotDay& spot = c.day.strip.spots[i];
        rows += row({draw::escaped(c.location.spots[i].name), direct(i), start(spot.for_wanted),
                     start(spot.for_late_light)});
    }
    const study::SpotSettings usual;
    std::string body = table({"Place", "Direct sun", "Wanted light", "Late light"}, rows);
    if (!body.empty())
        body +=
            note(fmt::format("Begins, ends: in 9 of 10 cases, with every figure moved within its "
                             "doubt. Start by: {} of set-up and {} of shot, done before the light "
                             "goes.",
                             length_text(usual.set_up), length_text(usual.shot)));
    return page_section("spots", "Places outside", body);
}

namespace {

std::string call_words(const SheetContent& c, Instant start) {
    if (!c.rigging.call) return {};
    const auto call = zone_of(c).instant(date::local_days{c.day.strip.date} + *c.rigging.call);
    if (!call) return "The call has no such local time on this date.";
    const std::string clock = site::whole_minutes(*call, zone_of(c));
    return *call <= start ? fmt::format("Call {}: {} in hand.", clock, length_text(start - *call))
                          : fmt::format("Call {}: {} TOO LATE.", clock, length_text(*call - start));
}

std::string tasks_table(const SheetContent& c, const study::Timetable& t) {
    std::string rows;
    for (const study::TimedTask& task : t.tasks)
        rows += row({by_text(task.from, zone_of(c)), name_cell(c.rigging.tasks[task.task].name),
                     length_text(task.to - task.from)});
    rows += row({by_text(t.ready_by, zone_of(c)),
                 c.room ? "ready: the best key begins" : "ready: the light begins", ""});
    return table({"Begin", "Task", "Takes"}, rows);
}

std::string nothing_to_count(const SheetContent& c) {
    if (!c.room) return "<p>No wanted light on this date: nothing to count back from.</p>\n";
    return fmt::format(
        "<p>There is no clean key {} to count back to.{}</p>\n",
        c.day.strip.keys.empty() ? "on this date" : "at the bearing stated",
        c.location.spots.empty() ? "" : " Each place outside has its own &quot;start by&quot;.");
}

}  // namespace

std::string timetable_section(const SheetContent& c) {
    if (c.rigging.tasks.empty()) return {};
    if (!c.day.ready_by)
        return page_section("rigging", "Rigging, counted back", nothing_to_count(c));
    std::string body, sizes;
    for (const int crew : study::crew_sizes(c.rigging)) {
        const study::Timetable t = study::count_back(c.rigging, crew, *c.day.ready_by);
        const bool is_ours = c.rigging.crew ? *c.rigging.crew == crew : body.empty();
        if (t.needs_more) {
            sizes += row({fmt::format("{}", crew), "none",
                          name_cell("too few for " + c.rigging.tasks[*t.needs_more].name)});
            continue;
        }
        if (is_ours)
            body = fmt::format("<p>With a crew of {}: rigging begins at {}.</p>\n", crew,
                               by_text(t.start, zone_of(c))) +
                   tasks_table(c, t);
        sizes += row({fmt::format("{}", crew), by_text(t.start, zone_of(c)),
                      draw::escaped(call_words(c, t.start))});
    }
    body += table({"Crew", "Begins", "Against the call"}, sizes);
    const study::KeyInterval* best = study::best_key(c.day.strip);
    body +=
        note((best ? key_window_words(c, *best) + " That goes before any task. " : std::string{}) +
             "Minutes as entered in the location file, one task after the other by the whole "
             "crew. Add time to carry, to park and to eat.");
    return page_section("rigging", "Rigging, counted back", body);
}

namespace {

struct BlankLine {
    std::string words;
    std::string label{};  ///< of what is filled in; nothing where nobody decides
};

std::string blank(const BlankLine& line, const char* group, std::size_t n) {
    std::string out = fmt::format("<li><span class=\"words\" id=\"{0}-{1}\">{2}</span>", group, n,
                                  draw::escaped(line.words));
    if (!line.label.empty())
        out += fmt::format(
            "<label><span id=\"{0}-{1}-0\">{2}</span> <input type=\"text\" autocomplete=\"off\" "
            "aria-labelledby=\"{0}-{1} {0}-{1}-0\"></label>",
            group, n, draw::escaped(line.label));
    return out + "</li>\n";
}

std::string blanks(const std::vector<BlankLine>& lines, const char* group) {
    if (lines.empty()) return {};
    std::string out = "<ul class=\"blanks\">\n";
    for (std::size_t i = 0; i < lines.size(); ++i)
        out += blank(lines[i], group, i + 1);
    return out + "</ul>\n";
}

}  // namespace

std::string cautions_section(const SheetContent& c) {
    std::vector<BlankLine> lines{{sun_caution}};
    const bool something_hangs = (c.day.lock && !c.day.lock->covers.empty()) ||
                                 !c.day.strip.covers.empty() || !c.rigging.tasks.empty();
    if (something_hangs)
        lines.push_back(
            {"Covers: ladders by people fit for it, a second person below; exits stay "
             "usable; cloth away from hot lamps.",
             "rigged by"});
    const bool outside = std::ranges::any_of(c.location.lamps, [](const site::Lamp& lamp) {
        return lamp.place == site::Lamp::Place::outside;
    });
    if (outside)
        lines.push_back(
            {"Lamps outside: stands weighted, wind and rain, cables clear of feet and "
             "vehicles, power by people licensed for it.",
             "power by"});
    const bool throws_back =
        std::ranges::any_of(site::buildings(c.location), [](const room::Building& b) {
            return b.facade && b.facade->kind == room::Facade::Kind::glass;
        });
    if (outside || throws_back) lines.push_back({glare_caution + std::string{"."}, "watched by"});
    if (c.location.room || !c.location.lamps.empty())
        lines.push_back({haze_caution + std::string{"."}, "agreed with"});
    if (!c.location.spots.empty())
        lines.push_back({"Outside: traffic, water and edges; the way back after dark."});
    std::string body = blanks(lines, "caution");
    body += note("Local codes and licensed practice decide.");
    return page_section("cautions", "Cautions", body);
}

std::string recce_section(const SheetContent& c) {
    std::vector<BlankLine> lines;
    if (c.room) {
        const room::Room& room = c.room->room();
        lines.push_back({site::wall_in_words(room, room.bearing.wall), "found"});
        for (const room::Window& w : room.windows)
            lines.push_back(
                {fmt::format("{}: {}, sill {}, reveal {}", w.name,
                             words::size(w.width_m, w.height_m, c.units),
                             words::length(w.sill_m, c.units), words::length(w.reveal_m, c.units)),
                 "found"});
    }
    lines.push_back({"Skyline: roofs and trees since the survey", "found"});
    lines.push_back({"Clock: against a time signal", "found"});
    lines.push_back({"Power: circuits and their load", "found"});
    return page_section("recce", "To check on the recce", blanks(lines, "recce"));
}

std::string read_back_section(const SheetContent& c) {
    std::string items;
    for (const std::string& line : c.read_back)
        items += fmt::format("<li>{}</li>\n", draw::escaped(line));
    if (items.empty()) return {};
    return page_section("understood", "As understood", "<ul>\n" + items + "</ul>\n", "screen");
}

std::string day_line(const SheetContent& c) {
    std::string out;
    if (c.day.strip.day.state == study::DayState::sun_always_down)
        out = "the sun stays below the horizon";
    if (c.day.strip.day.state == study::DayState::sun_always_up) out = "the sun does not set";
    for (const study::DayEvent& e : c.day.strip.day.events) {
        using Kind = study::DayEventKind;
        if (e.kind == Kind::astronomical_dawn || e.kind == Kind::astronomical_dusk ||
            e.kind == Kind::nautical_dawn || e.kind == Kind::nautical_dusk)
            continue;
        out += (out.empty() ? "" : ", ") + study::in_words(e.kind) + ' ' +
               site::whole_minutes(e.at, zone_of(c));
    }
    for (const site::ClockChange& change : c.day.strip.clock_changes)
        out += (out.empty() ? "" : "; ") + site::in_words(change);
    return out;
}

}  // namespace keyhour::tell
