#include <fmt/format.h>

#include <algorithm>

#include "cautions.hpp"
#include "draw/svg.hpp"
#include "keyhour/site/read_back.hpp"
#include "page_table.hpp"
#include "sheet_sections.hpp"
#include "words/length.hpp"

namespace keyhour::tell {
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

}  // namespace keyhour::tell
