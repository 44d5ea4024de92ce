#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "doubt_documents.hpp"
#include "draw/svg.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/light_drift.hpp"
#include "keyhour/study/light_side.hpp"
#include "page_table.hpp"
#include "sheet_sections.hpp"
#include "sheet_text.hpp"
#include "tell/light_lines.hpp"
#include "words/clock.hpp"
#include "words/levels.hpp"

namespace keyhour::tell {
namespace {

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
    std::string text = "with every doubt: " + words(doubt);
    if (doubt.share > 0)
        text += fmt::format("; starts {}, ends {}", words::clock_outward(doubt.begins, zone_of(c)),
                            words::clock_outward(doubt.ends, zone_of(c)));
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
        text += "; key to fill " + words::stops_over_fill(d.at_start.key_to_fill_stops->likely,
                                                          d.at_end.key_to_fill_stops->likely);
    if (d.at_start.key_kelvin && d.at_end.key_kelvin)
        text += fmt::format(
            "; {} K", both(fmt::format("{:.0f}", std::round(*d.at_start.key_kelvin / 100) * 100),
                           fmt::format("{:.0f}", std::round(*d.at_end.key_kelvin / 100) * 100)));
    if (const auto& wish = c.camera.wish)
        text += fmt::format("; {:+.1f} stops from the stop wanted",
                            study::weakest_stops(d, *wish).likely);
    return text;
}

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
        k.span ? times(words::clock_inward(*k.span, zone)) +
                     below(words::in_minutes(words::promised_length(*k.span)))
               : none,
        k.sure ? times(words::clock_inward(*k.sure, zone)) +
                     below(words::in_minutes(words::promised_length(*k.sure)))
               : none,
        times(words::clock_outward(k.possible, zone)), below(doubt_of_key(c, k)),
        below(about_key(c, k)), below(light_of_key(c, light, k)));
}

std::string keys_table(const SheetContent& c) {
    if (c.day.strip.keys.empty()) return {};
    std::string out =
        "<table class=\"keys\">\n<thead><tr><th scope=\"col\">As stated</th><th "
        "scope=\"col\">At any bearing</th>"
        "<th scope=\"col\">At some</th></tr></thead>\n";
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
        body +=
            note(fmt::format("As stated: at the bearing measured. At any: at every bearing within "
                             "{:g} degrees of it. "
                             "At some: at one of them at least. Cases: the room with every figure "
                             "moved within its doubt. {}",
                             room.bearing.within.in_degrees(), exposure_words(c.camera.exposure)));
    return page_section("keys", "Keys, best first", body);
}

}  // namespace keyhour::tell
