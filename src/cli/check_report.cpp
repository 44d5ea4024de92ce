#include "check_report.hpp"

#include <fmt/format.h>
#include <fmt/ostream.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>
#include <ostream>

#include "check_doubts.hpp"
#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/read_back.hpp"
#include "keyhour/study/lamp_output.hpp"
#include "light_text.hpp"
#include "tell/document.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

double hours(Seconds time) {
    return time.count() / 3600;
}

const char* word(room::Cover cover) {
    switch (cover) {
        case room::Cover::sheer:
            return "sheer";
        case room::Cover::blackout:
            return "blackout";
        case room::Cover::open:
            break;
    }
    return "open";
}

std::string facade_words(const room::Building& building) {
    if (!building.facade) return {};
    const room::Facade& f = *building.facade;
    return fmt::format("; side {} of {}, {:.2f} to {:.2f}, throws light back", f.side + 1,
                       f.kind == room::Facade::Kind::glass ? "glass" : "white render", f.bottom_m,
                       f.top_m);
}

const char* word(room::Glass glass) {
    switch (glass) {
        case room::Glass::none:
            return "none";
        case room::Glass::double_pane:
            return "double";
        case room::Glass::single_pane:
            break;
    }
    return "single";
}

/// The clear size of one pane between glazing bars.
struct Pane {
    double width_m, height_m;
};

Pane pane_of(const room::Window& w) {
    const room::Bars& bars = w.bars;
    return {(w.width_m - bars.upright * bars.width_m) / (bars.upright + 1),
            (w.height_m - bars.level * bars.width_m) / (bars.level + 1)};
}

bool has_bars(const room::Window& w) {
    return w.bars.upright + w.bars.level > 0;
}

// "21 June"
std::string day_and_month(site::LocalDate day) {
    std::string words = site::date_in_words(day);  // "Sunday 21 June 2026"
    words.erase(0, words.find(' ') + 1);
    return words.substr(0, words.rfind(' '));
}

std::string sunless_question(const room::Window& window, const study::WindowHours& sun,
                             date::year year) {
    std::string question =
        fmt::format("window \"{}\" gets no sun in {}.", window.name, static_cast<int>(year));
    if (sun.opposite->sun > Seconds{0}) {
        question += fmt::format(
            " Was the bearing read facing in instead of out? With the opposite bearing it would "
            "get {:.1f} h on {}.",
            hours(sun.opposite->sun), day_and_month(sun.opposite->date));
    }
    return question;
}

/// A room none of whose windows the sun ever meets: most likely its bearing is wrong.
std::optional<std::string> all_sunless_question(const site::Location& location,
                                                const std::vector<study::WindowHours>& sun,
                                                date::year year) {
    if (sun.size() < 2 ||
        std::ranges::any_of(sun, [](const study::WindowHours& w) { return w.sun_in_year; }))
        return std::nullopt;
    const room::Bearing& bearing = location.room->bearing;
    return fmt::format(
        "no window of this room gets sun on any day of {} at the bearing stated ({} faces {:g}). "
        "Is the bearing right, and is the hemisphere?",
        static_cast<int>(year), location.room->walls[bearing.wall], bearing.faces.in_degrees());
}

// --- table --------------------------------------------------------------------------------------

void print_window(const room::Room& room, const room::Window& w, const study::WindowHours& sun,
                  const CheckReport& report, std::ostream& out) {
    fmt::print(out, "  {} ({} wall, {:.2f} m from its left-hand corner)\n", w.name,
               room.walls[w.wall], w.left_m);
    fmt::print(out,
               "    opening {:.2f} wide x {:.2f} high, sill {:.2f}, head {:.2f}, reveal {:.2f}\n",
               w.width_m, w.height_m, w.sill_m, w.sill_m + w.height_m, w.reveal_m);
    if (has_bars(w)) {
        const Pane pane = pane_of(w);
        fmt::print(out, "    {} upright and {} level bars: {} panes of {:.3f} x {:.3f}\n",
                   w.bars.upright, w.bars.level, (w.bars.upright + 1) * (w.bars.level + 1),
                   pane.width_m, pane.height_m);
    }
    fmt::print(out, "    glass {}, cover {}\n    sun", word(w.glass), word(w.cover));
    const auto dates = study::turning_dates(report.year);
    for (std::size_t i = 0; i < dates.size(); ++i)
        fmt::print(out, "{} {} {:.1f} h", i == 0 ? "" : ",", day_and_month(dates[i]),
                   hours(sun.on_turning_dates[i]));
    out << (sun.sun_in_year ? "\n" : ": none all year\n");
}

void print_marks(const room::Room& room, std::ostream& out) {
    if (!room.marks.empty()) out << "\nmarks, metres on the plan\n";
    for (const room::Mark& m : room.marks) {
        fmt::print(out, "  {} at {:.2f}, {:.2f}, centre {:.2f} above the floor: ", m.name, m.at.x,
                   m.at.y, m.height_m);
        if (m.box_m)
            fmt::print(out, "box {:.2f} x {:.2f} x {:.2f}\n", (*m.box_m)[0], (*m.box_m)[1],
                       (*m.box_m)[2]);
        else
            fmt::print(out, "sphere, radius {:.2f}\n", m.radius_m);
    }
    if (!room.cameras.empty()) out << "\ncameras\n";
    for (const room::Camera& c : room.cameras)
        print_wrapped(
            out,
            fmt::format("{} at {:.2f}, {:.2f}, lens {:.2f} above the floor, aims at {}, view {:g}",
                        c.name, c.at.x, c.at.y, c.height_m, room.marks[c.aims_at].name,
                        c.view.in_degrees()),
            2, 6);
}

void print_objects(const room::Room& room, std::ostream& out) {
    if (!room.objects.empty()) out << "\nobjects inside\n";
    for (const room::Object& o : room.objects)
        fmt::print(out, "  {}, {:.2f} high\n", o.name, o.height_m);
}

void print_surroundings(const site::Location& location, std::ostream& out) {
    constexpr std::size_t most_shown = 20;  // a town's footprints say little as a list
    const auto& buildings = site::buildings(location);
    if (!buildings.empty()) out << "\nbuildings outside, above the ground\n";
    for (std::size_t i = 0; i < std::min(buildings.size(), most_shown); ++i)
        fmt::print(out, "  {}, {:.2f} high{}\n", buildings[i].name, buildings[i].height_m,
                   facade_words(buildings[i]));
    if (buildings.size() > most_shown)
        fmt::print(out, "  and {} more\n", buildings.size() - most_shown);
    if (!location.trees.empty()) out << "\ntrees outside, above the ground\n";
    for (const site::Tree& t : location.trees)
        fmt::print(out, "  {}, {:.2f} high, keeps back {:.0f} % in leaf, {:.0f} % bare\n", t.name,
                   t.height_m, 100 * t.opacity, 100 * t.bare_opacity);
}

const char* word(site::Side side) {
    switch (side) {
        case site::Side::front:
            return "front";
        case site::Side::side:
            return "side";
        case site::Side::back:
            return "back";
        case site::Side::any:
            break;
    }
    return "any";
}

void print_spots(const site::Location& location, std::ostream& out) {
    if (!location.spots.empty()) out << "\nplaces outside\n";
    for (const site::Spot& spot : location.spots) {
        const Azimuth looks{wrapped_turn(spot.camera_bearing)};
        fmt::print(out, "  {}: camera looks {} ({:g} true), wants {} light\n", spot.name,
                   site::compass_words(looks), looks.from_north.in_degrees(), word(spot.wants));
        const auto degrees = [](Angle a) {
            return in_degrees(std::round(a.in_degrees() * 10) / 10);
        };
        std::string more = fmt::format("    view {}, lens {:g} m above the ground",
                                       degrees(spot.view), spot.eye_m);
        if (spot.tilt != Angle{})
            more += fmt::format(", tilted {} {}",
                                degrees(Angle::degrees(std::abs(spot.tilt.in_degrees()))),
                                spot.tilt > Angle{} ? "up" : "down");
        if (spot.facade_faces)
            more += fmt::format("; its wall faces {} ({:g} true)",
                                site::compass_words({wrapped_turn(*spot.facade_faces)}),
                                spot.facade_faces->in_degrees());
        fmt::print(out, "{}\n", more);
    }
}

const char* word(site::Lamp::Place place) {
    return place == site::Lamp::Place::inside ? "inside" : "outside";
}

const char* known_by(const site::Lamp& lamp) {
    if (std::holds_alternative<light::DataSheet>(lamp.photometry)) return "data sheet";
    return std::holds_alternative<site::Lumens>(lamp.photometry) ? "lumens" : "photometry";
}

/// "3.6 klx at 5 m": on the axis, square to it.
std::string level_at_five_metres(const study::LampOutput& output) {
    const study::LampPose pose =
        output.can_be_aimed() ? study::LampPose{{}, {0, 1, 0}} : study::hung({});
    return fmt::format("{} at 5 m {}", level_text(output.level_lx(pose, 5.0 * pose.axis)),
                       output.can_be_aimed() ? "on its axis" : "below it");
}

void print_lamp(const site::Lamp& lamp, std::ostream& out) {
    const study::LampOutput output{lamp};
    std::string text =
        fmt::format("{}, {}, by {}: {}, {:.0f} lm, {:g} K", lamp.name, word(lamp.place),
                    known_by(lamp), level_at_five_metres(output), output.lumens(), lamp.kelvin);
    if (lamp.diffusion)
        text += fmt::format("; through diffusion of {:g}, {:.2f} across, {:.2f} before it",
                            lamp.diffusion->transmittance, lamp.diffusion->diameter_m,
                            lamp.diffusion->distance_m);
    else if (lamp.face_diameter_m > 0)
        text += fmt::format("; face {:.2f} across", lamp.face_diameter_m);
    const char* above = lamp.place == site::Lamp::Place::inside ? "floor" : "ground";
    if (lamp.at && lamp.height_m)
        text += fmt::format("; at {:.2f}, {:.2f}, {:.2f} above the {}", lamp.at->x, lamp.at->y,
                            *lamp.height_m, above);
    if (lamp.stand_max_m) text += fmt::format("; stand up to {:.2f}", *lamp.stand_max_m);
    if (lamp.watts) text += fmt::format("; {:g} W", *lamp.watts);
    if (lamp.battery_h) text += fmt::format("; burns {:g} h", *lamp.battery_h);
    print_wrapped(out, text, 2, 6);
}

void print_lamps(const site::Location& location, std::ostream& out) {
    if (!location.lamps.empty()) out << "\nlamps\n";
    for (const site::Lamp& lamp : location.lamps)
        print_lamp(lamp, out);
}

void print_room(const CheckReport& report, std::ostream& out) {
    const room::Room& room = *report.location.room;
    fmt::print(out, "\nroom: {:.1f} m2, {:.2f} m high, floor {:.2f} m above the ground\n",
               std::abs(room::signed_area(room.floor)), room.height_m, room.floor_above_ground_m);
    if (!room.windows.empty())
        fmt::print(out,
                   "\nwindows: clear openings in metres, sill and head above the floor; hours of "
                   "sun\nthrough the opening in {}, whatever covers it\n",
                   static_cast<int>(report.year));
    for (std::size_t i = 0; i < room.windows.size(); ++i)
        print_window(room, room.windows[i], report.sun[i], report, out);
    print_marks(room, out);
    print_objects(room, out);
}

// --- JSON ---------------------------------------------------------------------------------------

tell::Json json_of(const room::Room& room, const room::Window& w, const study::WindowHours& sun,
                   date::year year) {
    tell::Json j;
    j["window"] = w.name;
    j["wall"] = room.walls[w.wall];
    j["left_m"] = tell::rounded(w.left_m);
    j["width_m"] = tell::rounded(w.width_m);
    j["height_m"] = tell::rounded(w.height_m);
    j["sill_m"] = tell::rounded(w.sill_m);
    j["head_m"] = tell::rounded(w.sill_m + w.height_m);
    j["reveal_m"] = tell::rounded(w.reveal_m);
    j["bars"] = nullptr;
    if (has_bars(w)) {
        const Pane pane = pane_of(w);
        j["bars"] = {{"upright", w.bars.upright},
                     {"level", w.bars.level},
                     {"width_m", tell::rounded(w.bars.width_m)},
                     {"set_back_m", tell::rounded(w.bars.set_back_m)},
                     {"pane_width_m", tell::rounded(pane.width_m)},
                     {"pane_height_m", tell::rounded(pane.height_m)}};
    }
    j["glass"] = word(w.glass);
    j["cover"] = word(w.cover);
    const auto dates = study::turning_dates(year);
    j["sun"] = tell::Json::array();
    for (std::size_t i = 0; i < dates.size(); ++i)
        j["sun"].push_back({{"date", site::iso_date(dates[i])},
                            {"sun_h", tell::rounded(hours(sun.on_turning_dates[i]), 4)}});
    j["sun_in_year"] = sun.sun_in_year;
    j["opposite"] = nullptr;
    if (sun.opposite)
        j["opposite"] = {{"date", site::iso_date(sun.opposite->date)},
                         {"sun_h", tell::rounded(hours(sun.opposite->sun), 4)}};
    return j;
}

tell::Json json_of_walls(const room::Room& room) {
    tell::Json walls = tell::Json::array();
    for (std::size_t i = 0; i < room.walls.size(); ++i) {
        const Azimuth faces = room::wall_faces(room, i);
        walls.push_back({{"wall", room.walls[i]},
                         {"width_m", tell::rounded(room::wall_frame(room.floor, i).width_m)},
                         {"faces_true_deg", tell::rounded(faces.from_north.in_degrees())},
                         {"faces", site::compass_words(faces)}});
    }
    return walls;
}

tell::Json json_of_bearing(const room::Room& room) {
    const room::Bearing& b = room.bearing;
    return {{"wall", room.walls[b.wall]},
            {"faces_deg", tell::rounded(b.faces.in_degrees())},
            {"north", b.magnetic ? "magnetic" : "true"},
            {"declination_deg", tell::rounded(b.declination.in_degrees(), 4)},
            {"within_deg", tell::rounded(b.within.in_degrees())}};
}

tell::Json names(const auto& parts) {
    tell::Json list = tell::Json::array();
    for (const auto& part : parts)
        list.push_back(part.name);
    return list;
}

tell::Json number_or_null(const std::optional<double>& value) {
    return value ? tell::Json(tell::rounded(*value)) : tell::Json();
}

tell::Json json_of(const site::Lamp& lamp) {
    const study::LampOutput output{lamp};
    tell::Json j;
    j["lamp"] = lamp.name;
    j["place"] = word(lamp.place);
    j["known_by"] = known_by(lamp);
    j["photometry"] = nullptr;
    if (const auto* measured = std::get_if<site::MeasuredIntensity>(&lamp.photometry))
        j["photometry"] = measured->file;
    j["axis_candela"] = tell::rounded(
        output.can_be_aimed() ? output.axis_candela() : output.lumens() / std::numbers::pi, 3);
    j["lumens"] = tell::rounded(output.lumens(), 3);
    j["kelvin"] = tell::rounded(lamp.kelvin);
    j["face_diameter_m"] = tell::rounded(lamp.face_diameter_m);
    j["diffusion"] = nullptr;
    if (lamp.diffusion)
        j["diffusion"] = {{"transmittance", tell::rounded(lamp.diffusion->transmittance)},
                          {"diameter_m", tell::rounded(lamp.diffusion->diameter_m)},
                          {"distance_m", tell::rounded(lamp.diffusion->distance_m)}};
    j["at"] = nullptr;
    if (lamp.at) j["at"] = {tell::rounded(lamp.at->x), tell::rounded(lamp.at->y)};
    j["height_m"] = number_or_null(lamp.height_m);
    j["stand_max_m"] = number_or_null(lamp.stand_max_m);
    j["watts"] = number_or_null(lamp.watts);
    j["battery_h"] = number_or_null(lamp.battery_h);
    return j;
}

tell::Json json_of_room(const CheckReport& report) {
    const room::Room& room = *report.location.room;
    tell::Json j;
    j["floor_m2"] = tell::rounded(std::abs(room::signed_area(room.floor)));
    j["height_m"] = tell::rounded(room.height_m);
    j["floor_above_ground_m"] = tell::rounded(room.floor_above_ground_m);
    j["bearing"] = json_of_bearing(room);
    j["walls"] = json_of_walls(room);
    j["windows"] = tell::Json::array();
    for (std::size_t i = 0; i < room.windows.size(); ++i)
        j["windows"].push_back(json_of(room, room.windows[i], report.sun[i], report.year));
    j["marks"] = names(room.marks);
    j["cameras"] = names(room.cameras);
    j["objects"] = names(room.objects);
    j["buildings"] = names(room.buildings);
    return j;
}

}  // namespace

CheckReport check_report(site::Location location, date::year year) {
    CheckReport report{std::move(location), year, {}, {}, {}};
    site::Location& place = report.location;
    if (place.room) {
        report.sun = study::window_hours(place, year);
        if (auto question = all_sunless_question(place, report.sun, year))
            place.questions.insert(place.questions.begin(), *std::move(question));
        for (std::size_t i = 0; i < report.sun.size(); ++i)
            if (!report.sun[i].sun_in_year)
                place.questions.push_back(
                    sunless_question(place.room->windows[i], report.sun[i], year));
    }
    report.read_back = site::read_back(place, year / 1 / 1, year / 12 / 31);
    return report;
}

void print(const CheckReport& report, std::ostream& out) {
    for (const std::string& line : report.read_back)
        print_wrapped(out, line, 0, 4);
    if (report.recce) return print(*report.recce, out);
    const site::Location& location = report.location;
    if (location.room) print_room(report, out);
    print_surroundings(location, out);
    print_spots(location, out);
    print_lamps(location, out);
    print_doubts(location, out);
    const std::size_t count = location.questions.size();
    if (count == 0)
        out << "\nsound; nothing to ask\n";
    else
        fmt::print(out, "\nit can be read, but {} to be settled first: \"please check\" above\n",
                   count == 1 ? "one thing is" : fmt::format("{} things are", count));
}

void print_json(const CheckReport& report, std::ostream& out) {
    tell::Json document = tell::start_document(report.location, report.read_back);
    const site::Site& site = report.location.site;
    document["latitude_deg"] = tell::rounded(site.observer.latitude.in_degrees());
    document["longitude_deg"] = tell::rounded(site.observer.longitude.in_degrees());
    document["elevation_m"] = tell::rounded(site.observer.elevation_m);
    document["time_zone"] = site.zone.name();
    document["year"] = static_cast<int>(report.year);
    document["room"] = nullptr;
    if (report.location.room) document["room"] = json_of_room(report);
    if (report.recce) document["recce"] = json_of(*report.recce);
    document["doubts"] = json_of_doubts(report.location);
    document["buildings"] = names(site::buildings(report.location));
    document["trees"] = names(report.location.trees);
    document["spots"] = names(report.location.spots);
    document["lamps"] = tell::Json::array();
    for (const site::Lamp& lamp : report.location.lamps)
        document["lamps"].push_back(json_of(lamp));
    document["questions"] = report.location.questions;
    tell::write(out, document);
}

}  // namespace keyhour::cli
