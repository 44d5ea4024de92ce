#include <fmt/format.h>

#include <cmath>
#include <variant>

#include "draw/figures.hpp"
#include "draw/svg.hpp"
#include "keyhour/site/compass.hpp"
#include "keyhour/study/lamp_report.hpp"
#include "sheet_sections.hpp"
#include "sheet_text.hpp"
#include "tell/lamp_sentences.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"
#include "words/levels.hpp"
#include "words/names.hpp"

namespace keyhour::tell {
namespace {

/// Where a lamp outside must stand to do what the sun does in the middle of the best key; nothing
/// without a key, or for a lamp that can't be aimed.
std::optional<study::LampReport> in_place_of_sun(const SheetContent& c, std::size_t lamp) {
    const study::KeyInterval* key = study::best_key(c.day.strip);
    const site::Lamp& l = c.location.lamps[lamp];
    if (!c.room || !key || l.place != site::Lamp::Place::outside ||
        std::holds_alternative<site::Lumens>(l.photometry))
        return std::nullopt;
    study::LampQuestion question;
    question.lamp = lamp;
    question.mark = key->mark;
    question.window = key->window;
    question.like = key->span->from + 0.5 * key->span->length();
    return study::report_lamp(*c.room, nullptr, question);
}

std::string set_up(const SheetContent& c, const study::LampReport& r) {
    const std::string like = fmt::format("as the sun at {} through {}",
                                         words::minute_down(r.sun->at, c.location.site.zone),
                                         c.room->room().windows[r.wish.window].name);
    const study::StandPlace* p = r.stand.place();
    if (!p || !r.light) return like + ": no place from which it reaches the mark";
    std::string text = fmt::format(
        "{}: stand at x {} y {}, {} (seen from inside), lamp {} above the ground", like,
        draw::figure(p->at.x, c.units), draw::figure(p->at.y, c.units),
        beside_window_in_brief(r.stand, c.units), words::length(p->height_above_ground_m, c.units));
    if (!r.stand.wanted.is_reachable())
        text += " (the nearest that is possible, " + traded(r.stand, c.units) + ")";
    const double tilt = r.light->tilt.in_degrees();
    return text + fmt::format("; towards {:.0f} {} true, tilt {:.0f} {}; {} at the mark, {}",
                              r.light->bearing.from_north.in_degrees(),
                              site::compass_letters(r.light->bearing), std::abs(tilt),
                              tilt < 0 ? "down" : "up", words::level(r.light->level_lx),
                              stop_text(r.light->level_lx, c.camera.exposure));
}

/// What is told of a lamp by its sheet: "outside, stand up to 3.6 m, 800 W, 5600 K".
std::string as_owned(const site::Lamp& lamp, site::Units units) {
    std::string text = words::name(lamp.place);
    if (lamp.at)
        text += fmt::format(", at x {} y {}", draw::figure(lamp.at->x, units),
                            draw::figure(lamp.at->y, units));
    if (lamp.height_m)
        text += fmt::format(", {} high", words::length(*lamp.height_m, units));
    else if (lamp.stand_max_m)
        text += fmt::format(", stand up to {}", words::length(*lamp.stand_max_m, units, 1));
    if (lamp.watts) text += fmt::format(", {:g} W", *lamp.watts);
    if (lamp.battery_h) text += fmt::format(", battery for {:g} h", *lamp.battery_h);
    return text + fmt::format(", {:g} K", lamp.kelvin);
}

}  // namespace

namespace {

/// What x and y are, by a place that anybody finds in the room.
std::string axes_note(const SheetContent& c) {
    if (!c.location.room || c.location.room->floor.empty()) return {};
    const room::Point2& corner = c.location.room->floor.front();
    return fmt::format(
        "<p class=\"note\">{}; off the wall is off its outer face. x runs to the right of the "
        "plan, y up it; the floor's first "
        "corner in the file, where the {} wall begins, lies at x {} y {}.</p>\n",
        draw::in_words(c.units), draw::escaped(c.location.room->walls.front()),
        draw::figure(corner.x, c.units), draw::figure(corner.y, c.units));
}

}  // namespace

std::string lamps_section(const SheetContent& c) {
    std::string rows;
    for (std::size_t i = 0; i < c.location.lamps.size(); ++i) {
        const auto planned = lamp_key(c);
        const bool is_key =
            planned && planned->planned.question.lamp && planned->planned.question.lamp->lamp == i;
        const auto report = is_key ? std::nullopt : in_place_of_sun(c, i);
        const std::string set = is_key   ? "as the key of the lock: " + lamp_key_place(*planned)
                                : report ? set_up(c, *report)
                                         : std::string{};
        rows += fmt::format(
            "<tr><th scope=\"row\">{}</th><td>{}{}</td></tr>\n",
            draw::escaped(c.location.lamps[i].name),
            draw::escaped(as_owned(c.location.lamps[i], c.units)),
            set.empty() ? set : fmt::format("<span class=\"below\">{}</span>", draw::escaped(set)));
    }
    if (rows.empty()) return {};
    return page_section("lamps", "Lamps",
                        "<table>\n<thead><tr><th scope=\"col\">Lamp</th><th "
                        "scope=\"col\">Set-up</th></tr></thead>\n"
                        "<tbody>\n" +
                            rows + "</tbody>\n</table>\n" + axes_note(c));
}

}  // namespace keyhour::tell
