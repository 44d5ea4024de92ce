#include "tell/check_things.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <variant>

#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/lamp_output.hpp"
#include "tell/check_words.hpp"
#include "words/clock.hpp"
#include "words/digits.hpp"
#include "words/length.hpp"
#include "words/levels.hpp"
#include "words/names.hpp"

namespace keyhour::tell {
namespace {

void say(Paragraphs& out, std::string text, std::size_t indent = 0) {
    out.push_back({std::move(text), indent, indent + 2});
}

/// On the plan: "2.30 m, 1.80 m".
std::string place(room::Point2 at, site::Units units) {
    return words::length(at.x, units) + ", " + words::length(at.y, units);
}

void window(const room::Room& room, std::size_t i, const CheckAnswer& a, Paragraphs& out) {
    const room::Window& w = room.windows[i];
    const site::Units units = a.recce.units;
    say(out, fmt::format("window {} ({} wall, {} from its left-hand corner)", w.name,
                         room.walls[w.wall], words::length(w.left_m, units)));
    say(out,
        fmt::format("opening {}, sill {}, head {}, reveal {}",
                    words::size(w.width_m, w.height_m, units), words::length(w.sill_m, units),
                    words::length(w.sill_m + w.height_m, units), words::length(w.reveal_m, units)),
        2);
    if (const room::Bars& bars = w.bars; bars.upright + bars.level > 0)
        say(out,
            fmt::format(
                "{} upright and {} level bars: {} panes of {}", bars.upright, bars.level,
                (bars.upright + 1) * (bars.level + 1),
                words::size((w.width_m - bars.upright * bars.width_m) / (bars.upright + 1),
                            (w.height_m - bars.level * bars.width_m) / (bars.level + 1), units)),
            2);
    say(out, fmt::format("glass {}, cover {}", words::name(w.glass), words::name(w.cover)), 2);
    say(out, "sun " + hours_of_sun(a.sun[i], a.year), 2);
}

std::string facade_words(const room::Building& building, site::Units units) {
    if (!building.facade) return {};
    const room::Facade& f = *building.facade;
    return fmt::format("; side {} of {}, {} to {}, throws light back", f.side + 1,
                       words::in_words(f.kind), words::length(f.bottom_m, units),
                       words::length(f.top_m, units));
}

void room_things(const room::Room& room, site::Units units, Paragraphs& out) {
    for (const room::Mark& m : room.marks)
        say(out, fmt::format("mark {} at {}, centre {} above the floor: {}", m.name,
                             place(m.at, units), words::length(m.height_m, units),
                             m.box_m ? fmt::format("box {} x {}",
                                                   words::size((*m.box_m)[0], (*m.box_m)[1], units),
                                                   words::length((*m.box_m)[2], units))
                                     : "sphere, radius " + words::length(m.radius_m, units)));
    for (const room::Camera& c : room.cameras)
        say(out, fmt::format("camera {} at {}, lens {} above the floor, aims at {}, view {:g}",
                             c.name, place(c.at, units), words::length(c.height_m, units),
                             room.marks[c.aims_at].name, c.view.in_degrees()));
    for (const room::Object& o : room.objects)
        say(out,
            fmt::format("object inside {}, {} high", o.name, words::length(o.height_m, units)));
}

void outside(const site::Location& location, site::Units units, Paragraphs& out) {
    constexpr std::size_t most_shown = 20;  // a town's footprints say little as a list
    const auto& buildings = site::buildings(location);
    for (std::size_t i = 0; i < std::min(buildings.size(), most_shown); ++i)
        say(out, fmt::format("building outside {}, {} high above the ground{}", buildings[i].name,
                             words::length(buildings[i].height_m, units),
                             facade_words(buildings[i], units)));
    if (buildings.size() > most_shown)
        say(out, fmt::format("and {} more buildings", buildings.size() - most_shown));
    for (const site::Tree& t : location.trees)
        say(out, fmt::format("tree outside {}, {} high, keeps back {:.0f} % in leaf, {:.0f} % bare",
                             t.name, words::length(t.height_m, units), 100 * t.opacity,
                             100 * t.bare_opacity));
}

void spot(const site::Spot& spot, site::Units units, Paragraphs& out) {
    const Azimuth looks{wrapped_turn(spot.camera_bearing)};
    const auto degrees = [](Angle a) {
        return words::in_degrees(std::round(a.in_degrees() * 10) / 10);
    };
    std::string text = fmt::format(
        "place outside {}: camera looks {} ({:g} true), wants {} light; view {}, lens {} above the "
        "ground",
        spot.name, site::compass_words(looks), looks.from_north.in_degrees(),
        words::name(spot.wants), degrees(spot.view), words::length(spot.eye_m, units, 1));
    if (spot.tilt != Angle{})
        text +=
            fmt::format(", tilted {} {}", degrees(Angle::degrees(std::abs(spot.tilt.in_degrees()))),
                        spot.tilt > Angle{} ? "up" : "down");
    if (spot.facade_faces)
        text += fmt::format("; its wall faces {} ({:g} true)",
                            site::compass_words({wrapped_turn(*spot.facade_faces)}),
                            spot.facade_faces->in_degrees());
    say(out, text);
}

std::string lamp_text(const site::Lamp& lamp, site::Units units) {
    const auto length = [&](double m) { return words::length(m, units); };
    const study::LampOutput output{lamp};
    const study::LampPose pose =
        output.can_be_aimed() ? study::LampPose{{}, {0, 1, 0}} : study::hung({});
    std::string text = fmt::format(
        "lamp {}, {}, by {}: {} at {} {}, {} lm, {:g} K", lamp.name, words::name(lamp.place),
        known_by(lamp), words::level(output.level_lx(pose, 5.0 * pose.axis)),
        words::length(5.0, units, 0), output.can_be_aimed() ? "on its axis" : "below it",
        std::lround(words::two_digits(output.lumens())), lamp.kelvin);
    if (lamp.diffusion)
        text += fmt::format("; through diffusion of {:g}, {} across, {} before it",
                            lamp.diffusion->transmittance, length(lamp.diffusion->diameter_m),
                            length(lamp.diffusion->distance_m));
    else if (lamp.face_diameter_m > 0)
        text += fmt::format("; face {} across", length(lamp.face_diameter_m));
    if (lamp.at && lamp.height_m)
        text +=
            fmt::format("; at {}, {} above the {}", place(*lamp.at, units), length(*lamp.height_m),
                        lamp.place == site::Lamp::Place::inside ? "floor" : "ground");
    if (lamp.stand_max_m) text += "; stand up to " + length(*lamp.stand_max_m);
    if (lamp.watts) text += fmt::format("; {:g} W", *lamp.watts);
    if (lamp.battery_h) text += fmt::format("; burns {:g} h", *lamp.battery_h);
    return text;
}

}  // namespace

std::string day_and_month(site::LocalDate day) {
    std::string words = site::date_in_words(day);  // "Sunday 21 June 2026"
    words.erase(0, words.find(' ') + 1);
    return words.substr(0, words.rfind(' '));
}

std::string hours_of_sun(const study::WindowHours& sun, date::year year) {
    const auto dates = study::turning_dates(year);
    std::string text;
    for (std::size_t i = 0; i < dates.size(); ++i)
        text += fmt::format("{}{} {:.1f} h", i == 0 ? "" : ", ", day_and_month(dates[i]),
                            in_hours(sun.on_turning_dates[i]));
    return sun.sun_in_year ? text : text + ": none all year";
}

Paragraphs windows_in_full(const CheckAnswer& answer) {
    Paragraphs out;
    if (!answer.location.room) return out;
    const room::Room& room = *answer.location.room;
    const site::Units units = answer.recce.units;
    say(out, fmt::format("room: {}, {} high, floor {} above the ground",
                         words::area(std::abs(room::signed_area(room.floor)), units),
                         words::length(room.height_m, units),
                         words::length(room.floor_above_ground_m, units)));
    if (!room.windows.empty())
        say(out, fmt::format("windows: clear openings, sill and head above the floor; hours of sun "
                             "through the opening in {}, whatever covers it",
                             static_cast<int>(answer.year)));
    for (std::size_t i = 0; i < room.windows.size(); ++i)
        window(room, i, answer, out);
    return out;
}

Paragraphs things_in_full(const CheckAnswer& answer) {
    Paragraphs out;
    const site::Units units = answer.recce.units;
    if (answer.location.room) room_things(*answer.location.room, units, out);
    outside(answer.location, units, out);
    for (const site::Spot& s : answer.location.spots)
        spot(s, units, out);
    return out;
}

Paragraphs lamps_in_full(const CheckAnswer& answer) {
    Paragraphs out;
    for (const site::Lamp& lamp : answer.location.lamps)
        say(out, lamp_text(lamp, answer.recce.units));
    return out;
}

}  // namespace keyhour::tell
