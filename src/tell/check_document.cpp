#include "tell/check_document.hpp"

#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/doubts.hpp"
#include "keyhour/study/lamp_output.hpp"
#include "tell/check_words.hpp"
#include "words/names.hpp"

namespace keyhour::tell {
namespace {

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

Json json_of(const room::Room& room, const room::Window& w, const study::WindowHours& sun,
             date::year year) {
    Json j;
    j["window"] = w.name;
    j["wall"] = room.walls[w.wall];
    j["left_m"] = rounded(w.left_m);
    j["width_m"] = rounded(w.width_m);
    j["height_m"] = rounded(w.height_m);
    j["sill_m"] = rounded(w.sill_m);
    j["head_m"] = rounded(w.sill_m + w.height_m);
    j["reveal_m"] = rounded(w.reveal_m);
    j["bars"] = nullptr;
    if (has_bars(w)) {
        const Pane pane = pane_of(w);
        j["bars"] = {{"upright", w.bars.upright},
                     {"level", w.bars.level},
                     {"width_m", rounded(w.bars.width_m)},
                     {"set_back_m", rounded(w.bars.set_back_m)},
                     {"pane_width_m", rounded(pane.width_m)},
                     {"pane_height_m", rounded(pane.height_m)}};
    }
    j["glass"] = words::name(w.glass);
    j["cover"] = words::name(w.cover);
    const auto dates = study::turning_dates(year);
    j["sun"] = Json::array();
    for (std::size_t i = 0; i < dates.size(); ++i)
        j["sun"].push_back({{"date", site::iso_date(dates[i])},
                            {"sun_h", rounded(in_hours(sun.on_turning_dates[i]), 4)}});
    j["sun_in_year"] = sun.sun_in_year;
    j["opposite"] = nullptr;
    if (sun.opposite)
        j["opposite"] = {{"date", site::iso_date(sun.opposite->date)},
                         {"sun_h", rounded(in_hours(sun.opposite->sun), 4)}};
    return j;
}

Json json_of_walls(const room::Room& room) {
    Json walls = Json::array();
    for (std::size_t i = 0; i < room.walls.size(); ++i) {
        const Azimuth faces = room::wall_faces(room, i);
        walls.push_back({{"wall", room.walls[i]},
                         {"width_m", rounded(room::wall_frame(room.floor, i).width_m)},
                         {"faces_true_deg", rounded(faces.from_north.in_degrees())},
                         {"faces", site::compass_words(faces)}});
    }
    return walls;
}

Json json_of_bearing(const room::Room& room) {
    const room::Bearing& b = room.bearing;
    return {{"wall", room.walls[b.wall]},
            {"faces_deg", rounded(b.faces.in_degrees())},
            {"north", b.magnetic ? "magnetic" : "true"},
            {"declination_deg", rounded(b.declination.in_degrees(), 4)},
            {"within_deg", rounded(b.within.in_degrees())}};
}

Json names(const auto& parts) {
    Json list = Json::array();
    for (const auto& part : parts)
        list.push_back(part.name);
    return list;
}

Json number_or_null(const std::optional<double>& value) {
    return value ? Json(rounded(*value)) : Json();
}

Json json_of(const site::Lamp& lamp) {
    const study::LampOutput output{lamp};
    Json j;
    j["lamp"] = lamp.name;
    j["place"] = words::name(lamp.place);
    j["known_by"] = known_by(lamp);
    j["photometry"] = nullptr;
    if (const auto* measured = std::get_if<site::MeasuredIntensity>(&lamp.photometry))
        j["photometry"] = measured->file;
    j["axis_candela"] = rounded(
        output.can_be_aimed() ? output.axis_candela() : output.lumens() / std::numbers::pi, 3);
    j["lumens"] = rounded(output.lumens(), 3);
    j["kelvin"] = rounded(lamp.kelvin);
    j["face_diameter_m"] = rounded(lamp.face_diameter_m);
    j["diffusion"] = nullptr;
    if (lamp.diffusion)
        j["diffusion"] = {{"transmittance", rounded(lamp.diffusion->transmittance)},
                          {"diameter_m", rounded(lamp.diffusion->diameter_m)},
                          {"distance_m", rounded(lamp.diffusion->distance_m)}};
    j["at"] = nullptr;
    if (lamp.at) j["at"] = {rounded(lamp.at->x), rounded(lamp.at->y)};
    j["height_m"] = number_or_null(lamp.height_m);
    j["within_m"] = rounded(site::doubt(lamp).within_m);
    j["stand_max_m"] = number_or_null(lamp.stand_max_m);
    j["watts"] = number_or_null(lamp.watts);
    j["battery_h"] = number_or_null(lamp.battery_h);
    return j;
}

Json json_of_room(const CheckAnswer& report) {
    const room::Room& room = *report.location.room;
    Json j;
    j["floor_m2"] = rounded(std::abs(room::signed_area(room.floor)));
    j["height_m"] = rounded(room.height_m);
    j["floor_above_ground_m"] = rounded(room.floor_above_ground_m);
    j["bearing"] = json_of_bearing(room);
    j["walls"] = json_of_walls(room);
    j["windows"] = Json::array();
    for (std::size_t i = 0; i < room.windows.size(); ++i)
        j["windows"].push_back(json_of(room, room.windows[i], report.sun[i], report.year));
    j["marks"] = names(room.marks);
    j["cameras"] = names(room.cameras);
    j["objects"] = names(room.objects);
    j["buildings"] = names(room.buildings);
    return j;
}

template <class Part>
void add_taped(const char* kind, const Part& part, Json& list) {
    for (const Taped& t : taped(part))
        list.push_back({{"of", kind},
                        {"name", part.name},
                        {"key", t.key},
                        {"within_m", rounded(t.doubt.within_m)},
                        {"given", t.doubt.given}});
}

Json json_of_doubts(const site::Location& location) {
    Json list = Json::array();
    if (location.room) {
        for (const room::Window& window : location.room->windows)
            add_taped("window", window, list);
        for (const room::Mark& mark : location.room->marks)
            add_taped("mark", mark, list);
        for (const room::Camera& camera : location.room->cameras)
            add_taped("camera", camera, list);
    }
    for (const site::Lamp& lamp : location.lamps)
        add_taped("lamp", lamp, list);
    const auto add = [&](const char* of, const char* figure, double within, bool given) {
        list.push_back({{"of", of}, {figure, rounded(within)}, {"given", given}});
    };
    add("clock", "within_s", site::clock_within_s(location), location.clock_within_s.has_value());
    add("refraction", "within_percent", 100 * site::usual_refraction_within, false);
    if (const Angle skyline = site::horizon_within(location.site); skyline > Angle{})
        add("skyline", "within_deg", skyline.in_degrees(), false);
    if (anything_outside(location))
        add("heights outside", "within_percent", 100 * site::usual_building_within, false);
    const auto add_place = [&](const char* kind, const auto& outside) {
        const site::LengthDoubt d = site::place_doubt(outside, location);
        list.push_back({{"of", kind},
                        {"name", outside.name},
                        {"key", "footprint"},
                        {"within_m", rounded(d.within_m)},
                        {"given", d.given}});
    };
    for (const room::Building& building : site::buildings(location))
        add_place("building", building);
    for (const site::Tree& tree : location.trees)
        add_place("tree", tree);
    if (location.room) {
        const site::LengthDoubt floor = site::floor_doubt(*location.room);
        add("floor", "within_m", floor.within_m, floor.given);
    }
    return list;
}

}  // namespace

Json json_of(const CheckAnswer& report, const std::vector<std::string>& read_back) {
    Json document = start_document(report.location, read_back);
    const site::Site& site = report.location.site;
    document["latitude_deg"] = rounded(site.observer.latitude.in_degrees());
    document["longitude_deg"] = rounded(site.observer.longitude.in_degrees());
    document["elevation_m"] = rounded(site.observer.elevation_m);
    document["time_zone"] = site.zone.name();
    document["year"] = static_cast<int>(report.year);
    document["room"] = nullptr;
    if (report.location.room) document["room"] = json_of_room(report);
    document["doubts"] = json_of_doubts(report.location);
    document["buildings"] = names(site::buildings(report.location));
    document["trees"] = names(report.location.trees);
    document["spots"] = names(report.location.spots);
    document["lamps"] = Json::array();
    for (const site::Lamp& lamp : report.location.lamps)
        document["lamps"].push_back(json_of(lamp));
    document["questions"] = report.location.questions;
    return document;
}

}  // namespace keyhour::tell
