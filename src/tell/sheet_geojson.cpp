#include "sheet_geojson.hpp"

#include <GeographicLib/Geodesic.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

#include "keyhour/site/dates.hpp"
#include "keyhour/site/plan_frame.hpp"
#include "keyhour/study/spot_light.hpp"
#include "keyhour/version.hpp"

namespace keyhour::tell {
namespace {

using site::Coordinates;

Json position(const Coordinates& place) {
    return Json::array(
        {rounded(place.longitude.in_degrees()), rounded(place.latitude.in_degrees())});
}

/// Where one comes after so many metres in a direction. Source: GeographicLib::Geodesic.
Coordinates along(const Coordinates& from, Azimuth bearing, double metres) {
    double latitude = 0, longitude = 0;
    GeographicLib::Geodesic::WGS84().Direct(from.latitude.in_degrees(), from.longitude.in_degrees(),
                                            bearing.from_north.in_degrees(), metres, latitude,
                                            longitude);
    return {Angle::degrees(latitude), Angle::degrees(longitude)};
}

/// A short line; cut in two where it crosses the antimeridian (RFC 7946, 3.1.9).
Json line(const Coordinates& a, const Coordinates& b) {
    const double from = a.longitude.in_degrees(), to = b.longitude.in_degrees();
    if (std::abs(to - from) <= 180)
        return {{"type", "LineString"}, {"coordinates", Json::array({position(a), position(b)})}};
    const double edge = from < 0 ? -180 : 180;
    const double share = (edge - from) / (to + 2 * edge - from);
    const double latitude =
        a.latitude.in_degrees() + share * (b.latitude.in_degrees() - a.latitude.in_degrees());
    const Json here = Json::array({edge, rounded(latitude)}),
               there = Json::array({-edge, rounded(latitude)});
    return {{"type", "MultiLineString"},
            {"coordinates",
             Json::array({Json::array({position(a), here}), Json::array({there, position(b)})})}};
}

Json feature(Json geometry, Json properties) {
    return {{"type", "Feature"},
            {"geometry", std::move(geometry)},
            {"properties", std::move(properties)}};
}

Json point(const Coordinates& at) {
    return {{"type", "Point"}, {"coordinates", position(at)}};
}

Coordinates place_of(const Observer& o) {
    return {o.latitude, o.longitude};
}

/// The room's floor, counter-clockwise and closed (RFC 7946, 3.1.6).
Json outline(const site::Location& location) {
    const site::PlanFrame frame{location};
    room::Ring floor = location.room->floor;
    if (room::signed_area(floor) < 0) floor = room::Ring{floor.rbegin(), floor.rend()};
    Json ring = Json::array();
    for (const room::Point2 corner : floor)
        ring.push_back(position(frame.on_earth(corner)));
    ring.push_back(ring.front());
    return {{"type", "Polygon"}, {"coordinates", Json::array({std::move(ring)})}};
}

class DayFeatures {
public:
    DayFeatures(const SheetContent& c, std::shared_ptr<const study::SharedTrack> shared)
        : c_{c}, shared_{std::move(shared)}, path_{c.location.site, shared_} {}

    Json list() {
        const Coordinates site = place_of(c_.location.site.observer);
        for (const study::DayEvent& e : c_.day.strip.day.events)
            if (e.kind == study::DayEventKind::rise || e.kind == study::DayEventKind::set)
                add_bearing(site, study::name(e.kind), e.at, Json::object());
        if (c_.room) add_keys();
        for (std::size_t i = 0; i < c_.location.spots.size(); ++i)
            add_shadows(i);
        return std::move(features_);
    }

private:
    Json about(const char* kind, Instant t) const {
        return {{"kind", kind},
                {"date", site::iso_date(c_.day.strip.date)},
                {"utc", site::iso_utc(t)},
                {"local", site::iso_local(t, c_.location.site.zone)}};
    }

    void add_bearing(const Coordinates& from, const char* event, Instant t, const Json& more) {
        const auto now = path_.at(t).toward;
        const Azimuth azimuth{wrapped_turn(Angle::radians(std::atan2(now.east, now.north)))};
        Json properties = about("sun_bearing", t);
        properties["event"] = event;
        properties["azimuth_deg"] = rounded_turn(azimuth.from_north, 5);
        properties["apparent_altitude_deg"] = rounded(path_.at(t).altitude_deg, 5);
        properties["length_m"] = bearing_line_m;
        properties.update(more);
        features_.push_back(
            feature(line(from, along(from, azimuth, bearing_line_m)), std::move(properties)));
    }

    void add_keys() {
        const room::Room& room = c_.room->room();
        const site::PlanFrame frame{c_.location};
        for (const study::KeyInterval& k : c_.day.strip.keys) {
            if (!k.span) continue;
            const Coordinates mark = frame.on_earth(room.marks[k.mark].at);
            const Json names{{"mark", room.marks[k.mark].name},
                             {"window", room.windows[k.window].name}};
            add_bearing(mark, "key_start", k.span->from, names);
            add_bearing(mark, "key_middle", k.span->from + 0.5 * k.span->length(), names);
            add_bearing(mark, "key_end", k.span->to, names);
        }
    }

    void add_shadows(std::size_t spot) {
        const study::SpotLight light{c_.location, spot, shared_};
        const Coordinates from = place_of(site::observer_at(c_.location, light.spot()));
        constexpr double hour_s = 3600;
        for (const study::DirectSpan& s : c_.day.strip.spots[spot].direct)
            for (Instant t = c_.day.strip.from; t < s.span.to; t = t + Seconds{hour_s}) {
                if (t < s.span.from) continue;
                const study::SpotInstant now = light.at(t);
                if (!now.lit || !now.shadow) continue;
                Json properties = about("shadow", t);
                properties["spot"] = light.spot().name;
                properties["azimuth_deg"] = rounded_turn(now.shadow->toward.from_north, 5);
                properties["length_m"] = rounded(now.shadow->person_m, 2);
                properties["casts_m"] = light.settings().person_m;
                features_.push_back(
                    feature(line(from, along(from, now.shadow->toward, now.shadow->person_m)),
                            std::move(properties)));
            }
    }

    const SheetContent& c_;
    std::shared_ptr<const study::SharedTrack> shared_;
    study::SunPath path_;
    Json features_ = Json::array();
};

}  // namespace

Json geojson_places(const site::Location& location) {
    Json features = Json::array();
    features.push_back(feature(point(place_of(location.site.observer)),
                               {{"kind", "site"}, {"name", location.site.name}}));
    if (location.room)
        features.push_back(
            feature(outline(location), {{"kind", "room"}, {"name", location.site.name}}));
    for (const site::Spot& spot : location.spots)
        features.push_back(feature(point(place_of(site::observer_at(location, spot))),
                                   {{"kind", "spot"},
                                    {"name", spot.name},
                                    {"camera_bearing_deg", rounded_turn(spot.camera_bearing, 5)}}));
    return features;
}

Json geojson_of_day(const SheetContent& content,
                    const std::shared_ptr<const study::SharedTrack>& shared) {
    return DayFeatures{content, shared}.list();
}

std::string geojson(const site::Location& location, const std::vector<Json>& parts) {
    Json document;
    document["type"] = "FeatureCollection";
    document["source"] = std::string{"keyhour light sheet "} + version();
    document["location"] = location.site.name;
    document["features"] = Json::array();
    for (const Json& part : parts)
        for (const Json& one : part)
            document["features"].push_back(one);
    return document.dump(-1, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace keyhour::tell
