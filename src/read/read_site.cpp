#include <fmt/format.h>

#include <algorithm>

#include "keyhour/site/place_check.hpp"
#include "keyhour/site/position.hpp"
#include "keyhour/site/zone_at.hpp"
#include "parts.hpp"
#include "words/names.hpp"

namespace keyhour::read {

namespace {

constexpr LengthRule eye_rule{0, 500, true, 20};
constexpr LengthRule elevation_rule{-500, 9000, false, 9000};

void read_zone(Fields& fields, site::Site& site, const std::optional<Observer>& position) {
    const auto text = fields.text("time_zone", Need::required, "Europe/London");
    if (!text) return;
    std::optional<site::Coordinates> place;
    if (position) place = {position->latitude, position->longitude};
    auto zone = site::zone_at(*text, place);
    if (!zone) {
        fields.complain("time_zone", zone.error());
        return;
    }
    site.zone = *std::move(zone);
}

}  // namespace

std::optional<Observer> read_position(Fields& fields, Need need) {
    const auto text = fields.text("position", need, "52.9536N 1.1505W");
    if (!text) return std::nullopt;
    const auto place = site::read_position(*text);
    if (!place) {
        fields.complain("position", place.error());
        return std::nullopt;
    }
    return Observer{place->latitude, place->longitude, 0};
}

void read_site(Fields& root, site::Location& location, Findings& findings,
               SurroundingFiles& files) {
    site::Site& site = location.site;
    std::vector<std::string>& questions = location.questions;
    const toml::table* table = root.table("site", Need::required, "a table [site]");
    if (!table) return;
    Fields fields{*table, "[site]", findings};
    site.name = fields.name(Need::optional).value_or("");
    const auto position = read_position(fields, Need::required);
    if (position) site.observer = *position;
    const std::size_t before = findings.count();
    site.observer.elevation_m =
        fields.length("elevation_m", Need::optional, elevation_rule).value_or(0);
    files.elevation_given = fields.has("elevation_m");
    read_zone(fields, site, position);
    const bool zone_known = fields.has("time_zone") && findings.count() == before;
    read_site_surroundings(fields, site, findings, questions, files);
    (void)fields.choice("units", Need::optional, {"m", "ft"});  // see read_recce
    const auto air = fields.choice("air", Need::optional, words::list(words::air_names));
    site.air = air ? static_cast<site::AirClass>(*air) : site::AirClass::normal;
    Weather& weather = site.weather;
    weather.pressure_hpa = fields.number("pressure_hpa", Need::optional, {300, 1100, " hPa"})
                               .value_or(weather.pressure_hpa);
    weather.temperature_c = fields.number("temperature_c", Need::optional, {-60, 60, " degrees C"})
                                .value_or(weather.temperature_c);
    location.clock_within_s =
        fields.number("clock_within_s", Need::optional, {0, 3600, " seconds"});
    fields.refuse_unknown();
    if (position && zone_known) {
        const auto doubt =
            site::check_place({site.observer.latitude, site.observer.longitude}, site.zone);
        if (doubt && doubt->is_error) {
            fields.complain("position", doubt->message);
        } else if (doubt) {
            questions.push_back("position: " + doubt->message);
        }
    }
}

namespace {

void read_lens_and_wall(Fields& fields, site::Spot& spot) {
    const auto view = fields.number("view_deg", Need::optional, {1, 170, " degrees"});
    if (view) spot.view = Angle::degrees(*view);
    const auto tilt = fields.number("tilt_deg", Need::optional, {-89, 89, " degrees"});
    spot.tilt = Angle::degrees(tilt.value_or(0));
    const auto faces = fields.number("facade_faces", Need::optional, {0, 360, " degrees"});
    if (faces) spot.facade_faces = Angle::degrees(*faces);
}

}  // namespace

std::vector<site::Spot> read_spots(Fields& root, Findings& findings) {
    std::vector<site::Spot> spots;
    std::vector<std::string> names;
    for (const toml::table* table : root.tables("spot")) {
        Fields fields{*table, "[[spot]]", findings};
        site::Spot spot;
        spot.name = fields.name(Need::required).value_or("");
        if (!spot.name.empty() && std::ranges::find(names, spot.name) != names.end()) {
            fields.complain("name", fmt::format("a second spot is called \"{}\"", spot.name),
                            "each needs its own name");
        }
        names.push_back(spot.name);
        const auto at = fields.point("at", Need::optional);
        spot.on_plan = at.has_value();
        spot.at = at.value_or(Coordinates{}).at;
        spot.position = read_position(fields, Need::optional);
        const bool on_plan = fields.has("at"), on_map = fields.has("position");
        if (on_plan == on_map) {
            fields.complain_missing(
                on_plan ? "position" : "name",
                fmt::format("{} has {}", fields.label(),
                            on_plan ? "both at and position" : "neither at nor position"),
                "accepted: one of the two, at = [x, y] or position = \"...\"");
        }
        spot.eye_m = fields.length("eye_m", Need::optional, eye_rule).value_or(spot.eye_m);
        const auto bearing = fields.number("camera_bearing", Need::required, {0, 360, " degrees"});
        spot.camera_bearing = Angle::degrees(bearing.value_or(0));
        const auto wants = fields.choice("wants", Need::optional, words::list(words::side_names));
        spot.wants = wants ? static_cast<site::Side>(*wants) : site::Side::any;
        read_lens_and_wall(fields, spot);
        fields.refuse_unknown();
        spots.push_back(std::move(spot));
    }
    return spots;
}

}  // namespace keyhour::read
