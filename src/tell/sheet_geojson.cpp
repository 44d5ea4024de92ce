#include "sheet_geojson.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>
#include <tuple>

#include "keyhour/site/dates.hpp"
#include "keyhour/site/plan_frame.hpp"
#include "keyhour/study/ground.hpp"
#include "keyhour/version.hpp"
#include "sheet_text.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"

namespace keyhour::tell {
namespace {

using site::Coordinates;

/// Heights that the ground is to be kept clear of, m: people and cars, then vans and stands.
/// Common practice, no source.
constexpr double low_things_m = 2, high_things_m = 3.5;
/// Shadows farther from the site are nobody's concern, m.
constexpr double shadows_within_m = 100;

struct Degrees {
    double longitude = 0, latitude = 0;
};

Json position(const Coordinates& place) {
    return Json::array(
        {rounded(place.longitude.in_degrees()), rounded(place.latitude.in_degrees())});
}

/// A closed outline in degrees, counter-clockwise (RFC 7946, 3.1.6).
Json closed(const std::vector<Degrees>& corners) {
    Json ring = Json::array();
    for (const Degrees& d : corners)
        ring.push_back(Json::array({rounded(d.longitude), rounded(d.latitude)}));
    ring.push_back(ring.front());
    return Json::array({std::move(ring)});
}

/// The part east or west of the antimeridian, of longitudes that run on beyond 180.
std::vector<Degrees> beside_180(const std::vector<Degrees>& corners, bool west) {
    const double sign = west ? -1 : 1;
    std::vector<Degrees> out;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const Degrees a = corners[i], b = corners[(i + 1) % corners.size()];
        const double from = sign * (a.longitude - 180), to = sign * (b.longitude - 180);
        if (from >= 0) out.push_back({a.longitude - (west ? 0 : 360), a.latitude});
        if ((from > 0 && to < 0) || (from < 0 && to > 0))
            out.push_back({west ? 180.0 : -180.0,
                           a.latitude + from / (from - to) * (b.latitude - a.latitude)});
    }
    return out;
}

/// Outlines of the plan as an area on the Earth; cut where they cross the antimeridian (RFC 7946,
/// 3.1.9).
Json area(const site::PlanFrame& frame, const std::vector<room::Ring>& outlines) {
    Json parts = Json::array();
    for (const room::Ring& outline : outlines) {
        std::vector<Degrees> corners;
        bool crosses = false;
        for (const room::Point2 p : outline) {
            const Coordinates at = frame.on_earth(p);
            corners.push_back({at.longitude.in_degrees(), at.latitude.in_degrees()});
            crosses =
                crosses || std::abs(corners.back().longitude - corners.front().longitude) > 180;
        }
        if (!crosses) {
            parts.push_back(closed(corners));
            continue;
        }
        for (Degrees& d : corners)
            if (d.longitude < 0) d.longitude += 360;
        for (const bool west : {true, false})
            if (const auto part = beside_180(corners, west); part.size() > 2)
                parts.push_back(closed(part));
    }
    if (parts.size() == 1) return {{"type", "Polygon"}, {"coordinates", parts.front()}};
    return {{"type", "MultiPolygon"}, {"coordinates", std::move(parts)}};
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

/// The room's floor.
Json outline(const site::Location& location) {
    room::Ring floor = location.room->floor;
    if (room::signed_area(floor) < 0) floor = room::Ring{floor.rbegin(), floor.rend()};
    return area(site::PlanFrame{location}, {floor});
}

/// The distance of an outline from the plan's origin, m; 0 from within.
double off_site(const room::Ring& ring) {
    if (room::contains(ring, {})) return 0;
    double nearest = 1e300;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const room::Point2 a = ring[i], way = ring[(i + 1) % ring.size()] - a;
        const double share = std::clamp(-dot(a, way) / std::max(dot(way, way), 1e-12), 0.0, 1.0);
        nearest = std::min(nearest, length(a + share * way));
    }
    return nearest;
}

class DayFeatures {
public:
    DayFeatures(const SheetContent& c, std::shared_ptr<const study::SharedTrack> shared)
        : c_{c},
          path_{c.location.site, std::move(shared)},
          frame_{c.location},
          turn_{frame_.bearing_of_y()} {}

    Json list() {
        if (c_.room) add_keys();
        for (std::size_t i = 0; i < c_.day.strip.spots.size(); ++i)
            for (const study::DirectSpan& s : c_.day.strip.spots[i].direct) {
                const std::string& name = c_.location.spots[i].name;
                add_shadows("direct sun begins: " + name, s.span.from);
                add_shadows("direct sun ends: " + name, s.span.to);
            }
        return std::move(features_);
    }

private:
    Json about(const char* kind, const std::string& name) const {
        return {{"kind", kind}, {"name", name}, {"date", site::iso_date(c_.day.strip.date)}};
    }

    void add_times(Json& properties, const char* word, Instant t) const {
        const std::string before = *word ? std::string{word} + '_' : std::string{};
        properties[before + "utc"] = site::iso_utc(t);
        properties[before + "local"] = site::iso_local(t, c_.location.site.zone);
    }

    void add_keys() {
        const room::Room& room = c_.room->room();
        std::set<std::tuple<std::size_t, std::size_t, double>> told;  // once for several cameras
        for (const study::KeyInterval& k : c_.day.strip.keys) {
            if (!k.span || !told.insert({k.mark, k.window, k.span->from.unix_s()}).second) continue;
            for (const double height_m : {low_things_m, high_things_m})
                add_clear_ground(k, height_m);
            const std::string who =
                room.marks[k.mark].name + " through " + room.windows[k.window].name;
            add_shadows("key begins: " + who, k.span->from);
            add_shadows("key ends: " + who, k.span->to);
        }
    }

    void add_clear_ground(const study::KeyInterval& k, double height_m) {
        const auto clear = study::clear_ground(*c_.room, k.window, k.mark, *k.span, height_m);
        if (clear.outlines.empty()) return;
        const room::Room& room = c_.room->room();
        Json p =
            about("clear_ground",
                  fmt::format("keep clear {}: nothing between {} and {} high",
                              words::clock_outward(*k.span, c_.location.site.zone),
                              words::length(clear.lowest_ray_m, c_.units, 1, words::Rounding::down),
                              words::length(height_m, c_.units, 1)));
        p["mark"] = room.marks[k.mark].name;
        p["window"] = room.windows[k.window].name;
        add_times(p, "from", k.span->from);
        add_times(p, "to", k.span->to);
        p["up_to_m"] = height_m;
        p["lowest_ray_m"] = rounded(clear.lowest_ray_m, 2);
        features_.push_back(feature(area(frame_, clear.outlines), std::move(p)));
    }

    void add_shadows(const std::string& when, Instant t) {
        const study::Moment now = path_.at(t);
        for (const room::Building& building : site::buildings(c_.location)) {
            auto shadow = study::ground_shadow(building.footprint, building.height_m,
                                               turn_.to_plan(now.toward));
            std::erase_if(shadow,
                          [](const auto& ring) { return off_site(ring) > shadows_within_m; });
            if (shadow.empty()) continue;
            Json p = about("building_shadow", building.name);
            p["when"] = when;
            add_times(p, "", t);
            p["height_m"] = rounded(building.height_m, 2);
            features_.push_back(feature(area(frame_, shadow), std::move(p)));
        }
    }

    const SheetContent& c_;
    study::SunPath path_;
    site::PlanFrame frame_;
    room::PlanTurn turn_;
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
    return json_text(document) + '\n';
}

}  // namespace keyhour::tell
