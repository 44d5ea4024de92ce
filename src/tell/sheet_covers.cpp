#include <fmt/format.h>

#include <set>

#include "draw/svg.hpp"
#include "page_table.hpp"
#include "sheet_sections.hpp"
#include "sheet_text.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"

namespace keyhour::tell {
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
    std::string rows;
    for (const study::CoverToHang& cover : c.day.lock->covers) {
        const study::ClothSize cloth = study::cloth_of(cover, c.rigging.overlap_m);
        rows += row({draw::escaped(c.room->room().windows[cover.window].name) +
                         below(purpose(c, cover.window)),
                     size_cell(c, cover.width_m, cover.height_m),
                     size_cell(c, cloth.width_m, cloth.height_m),
                     words::minute_down(cover.sure_by, zone_of(c))});
    }
    if (c.day.strip.planned)
        for (const study::ClothToHang& cover : c.day.strip.planned->day.cloth_against_lamp) {
            const room::Window& window = c.room->room().windows[cover.window];
            rows += row(
                {draw::escaped(window.name) + below("the lamp's own light, unless it is flagged"),
                 size_cell(c, window.width_m, window.height_m),
                 size_cell(c, cover.cloth.width_m, cover.cloth.height_m),
                 words::minute_down(cover.needed_by, zone_of(c))});
        }
    const char* const while_it_lasts =
        c.day.strip.planned ? "while the lock lasts" : "while the best key holds";
    if (rows.empty())
        return note(
            fmt::format("No cloth to cut: no other opening lets sun in {}.", while_it_lasts));
    return "<h3>Cloth, cut to size</h3>\n" +
           table({"Window", "Opening", "Cloth", "Hang by"}, rows) +
           note(fmt::format(
               "{} Width x height; cloth: the opening and {} on every "
               "side. Hang by: first sun at any bearing within the doubt.",
               c.day.strip.planned
                   ? "So that no other window lets sun or lamp into the room while the lock lasts."
                   : "So that the key's window alone lets sun into the room while the best key "
                     "holds: more than the key itself needs.",
               words::length(c.rigging.overlap_m, c.units)));
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
        rows +=
            row({draw::escaped(c.room->room().windows[need.window].name) +
                     below(is_key_window ? "for another key: not while the best one holds" : ""),
                 times(words::clock_outward(need.span, zone_of(c))),
                 words::in_minutes(words::covered_length(need.span))});
    }
    std::string out = table({"Window", "Covered from, to", "Length"}, rows);
    if (!out.empty() && c.day.strip.keys.size() > 1)
        out += note("What each of the keys listed needs, taken together.");
    return out;
}

}  // namespace

std::string key_window_words(const SheetContent& c, const study::KeyInterval& best) {
    return fmt::format("The {}key comes through {}: leave it open.",
                       c.day.strip.keys.size() > 1 ? "best " : "",
                       c.room->room().windows[best.window].name);
}

std::string covers_section(const SheetContent& c) {
    if (!c.room) return {};
    const study::KeyInterval* best = study::best_key(c.day.strip);
    std::string body;
    if (const auto& planned = c.day.strip.planned)
        body = fmt::format("<p>The lamp's key comes through {}: leave it open.</p>\n",
                           draw::escaped(c.room->room().windows[planned->question.window].name));
    else if (best)
        body = fmt::format("<p>{} {}</p>\n", draw::escaped(key_window_words(c, *best)),
                           draw::escaped(needs_of_key(c, *best)));
    if (c.day.strip.planned) {
        body += cloth_table(c);
        if (const std::string needs = needs_table(c, best); !needs.empty())
            body += "<h3>For the sun's keys</h3>\n" + needs;
    } else {
        body += needs_table(c, best) + cloth_table(c);
    }
    return page_section("covers", "To cover", body);
}

}  // namespace keyhour::tell
