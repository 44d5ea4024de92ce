#include "lamp_document.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "instants.hpp"
#include "keyhour/site/dates.hpp"
#include "words/names.hpp"

namespace keyhour::tell {
namespace {

class LampDocument {
public:
    LampDocument(const study::LampReport& report, const study::LampQuestion& question,
                 const study::RoomStudy& study)
        : r_{report},
          q_{question},
          study_{study},
          room_{study.room()},
          lamp_{study.location().lamps[question.lamp]} {}

    Json make() const {
        Json j;
        j["key"] = q_.sun_is_key ? "sun" : "lamp";
        j["lamp"] = lamp_.name;
        j["window"] = room_.windows[r_.wish.window].name;
        j["mark"] = room_.marks[r_.wish.mark].name;
        j["asked"] = asked();
        j["sun"] = sun();
        j["reachable"] = q_.sun_is_key ? Json() : Json(r_.stand.wanted.is_reachable());
        j["wanted"] = q_.sun_is_key ? Json() : place(r_.stand.wanted);
        j["nearest"] = r_.stand.nearest ? place(*r_.stand.nearest) : Json();
        j["nearest_off_deg"] = r_.stand.nearest ? Json(rounded(r_.stand.nearest_off_deg)) : Json();
        j["light"] = light();
        j["difference"] = difference();
        j["room_light"] = {{"utc", utc(q_.sun_is_key ? q_.like : q_.room_light_at)},
                           {"key_side_lx", rounded(r_.room_key_side_lx, 4)},
                           {"fill_lx", rounded(r_.room_fill_lx, 4)}};
        j["ratio"] = ratio();
        j["colour"] = {
            {"kelvin", rounded(lamp_.kelvin)},
            {"sun_kelvin", r_.sun && r_.sun->kelvin ? Json(rounded(*r_.sun->kelvin, 0)) : Json()},
            {"mired_from_sun", number(r_.mired_from_sun, 2)}};
        j["battery"] = battery();
        j["fill"] = fill();
        return j;
    }

private:
    static Json number(const std::optional<double>& value, int decimals = 7) {
        return value ? Json(rounded(*value, decimals)) : Json();
    }
    static Json utc(const std::optional<Instant>& t) {
        return t ? Json(site::iso_utc(*t, fraction_digits)) : Json();
    }

    Json asked() const {
        return {{"like_utc", utc(q_.like)},
                {"key_angle_deg", q_.key ? Json(rounded(q_.key->key_angle_deg)) : Json()},
                {"camera", q_.key ? Json(room_.cameras[q_.key->camera].name) : Json()},
                {"height_m", q_.key ? Json(rounded(q_.key->height_m)) : Json()},
                {"through_window_middle", q_.through_middle},
                {"distance_m", number(q_.distance_m)},
                {"ground_below_floor_m", rounded(r_.wish.ground_below_m)},
                {"coverage", rounded(q_.coverage)},
                {"farthest_m", rounded(q_.farthest_m)},
                {"alike_share", rounded(q_.alike_share)}};
    }

    Json sun() const {
        if (!r_.sun) return nullptr;
        return {
            {"utc", utc(r_.sun->at)},
            {"local", site::iso_local(r_.sun->at, study_.location().site.zone, fraction_digits)},
            {"azimuth_deg", rounded_turn(r_.sun->position.azimuth.from_north)},
            {"apparent_altitude_deg",
             rounded(r_.sun->position.apparent_altitude.above_horizon.in_degrees())},
            {"coverage", rounded(r_.sun->coverage)},
            {"direct_lx", rounded(r_.sun->direct_lx, 2)}};
    }

    Json place(const study::StandPlace& p) const {
        Json obstacles = Json::array();
        for (const study::Obstacle& o : p.obstacles)
            obstacles.push_back(study::words(o, room_, lamp_));
        return {{"at", Json::array({rounded(p.at.x), rounded(p.at.y)})},
                {"height_above_ground_m", rounded(p.height_above_ground_m)},
                {"height_above_floor_m", rounded(p.at.z)},
                {"distance_m", rounded(p.distance_m)},
                {"off_wall_m", rounded(p.off_wall_m)},
                {"along_wall_m", rounded(p.along_wall_m)},
                {"coverage", rounded(p.coverage)},
                {"obstacles", obstacles}};
    }

    Json light() const {
        if (!r_.light) return nullptr;
        const study::LampLight& l = *r_.light;
        Json j{{"pan_deg", rounded(l.pan.in_degrees())},
               {"bearing_deg", rounded_turn(l.bearing.from_north)},
               {"tilt_deg", rounded(l.tilt.in_degrees())},
               {"key_angle_deg",
                r_.key_angle_deg ? Json(rounded(std::abs(*r_.key_angle_deg))) : Json()},
               {"light_from",
                r_.key_angle_deg ? Json(*r_.key_angle_deg > 0 ? "right" : "left") : Json()},
               {"in_frame", r_.camera ? Json(r_.in_frame) : Json()},
               {"level_lx", rounded(l.level_lx, 4)},
               {"bare_lx", rounded(l.bare_lx, 4)},
               {"incidence_deg", rounded(l.incidence.in_degrees())},
               {"glass_transmittance", rounded(l.transmittance)},
               {"fall_off_across_mark_stops", rounded(l.fall_off_across_mark_stops)},
               {"fall_off_to_surface_behind_stops", rounded(l.fall_off_to_wall_stops)},
               {"spread_across_mark_deg", rounded(l.spread_across_mark.in_degrees())},
               {"entering_lm", rounded(l.entering_lm, 4)},
               {"given_back_lx", rounded(l.given_back_lx, 4)},
               {"nearer_than_five_faces", l.too_near},
               {"stand_within_m", rounded(r_.doubt->within_m)},
               {"least_coverage", rounded(r_.doubt->least_coverage)},
               {"level_range_lx", {rounded(r_.doubt->least_lx, 4), rounded(r_.doubt->most_lx, 4)}}};
        j["patches"] = Json::array();
        for (const room::Patch& p : l.patches)
            j["patches"].push_back(patch(p, room::words(p.surface, room_)));
        if (l.on_ceiling) j["patches"].push_back(patch(*l.on_ceiling, "ceiling"));
        j["also_enters"] = Json::array();
        for (const study::AlsoEnters& w : l.also_enters)
            j["also_enters"].push_back({{"window", room_.windows[w.window].name},
                                        {"cover", words::name(room_.windows[w.window].cover)},
                                        {"open_share", rounded(w.open_share)},
                                        {"level_lx", rounded(w.level_lx, 4)},
                                        {"mark_coverage", rounded(w.mark_coverage)}});
        return j;
    }

    static Json patch(const room::Patch& p, const std::string& surface) {
        Json rings = Json::array();
        for (const auto& ring : p.outlines) {
            Json points = Json::array();
            for (const room::Point3 q : ring)
                points.push_back({rounded(q.x), rounded(q.y), rounded(q.z)});
            rings.push_back(std::move(points));
        }
        return {{"surface", surface},
                {"area_m2", rounded(p.area_m2)},
                {"edge_width_m", rounded(p.edge_width_m)},
                {"outlines", rings}};
    }

    Json difference() const {
        if (!r_.difference) return nullptr;
        const study::SunDifference& d = *r_.difference;
        return {{"surface", room::words(d.surface, room_)},
                {"lamp_area_m2", rounded(d.lamp_m2)},
                {"sun_area_m2", rounded(d.sun_m2)},
                {"centroid_apart_m", number(d.centroid_apart_m)},
                {"lamp_edge_width_m", rounded(d.lamp_edge_m)},
                {"sun_edge_width_m", rounded(d.sun_edge_m)},
                {"growth", rounded(d.growth)},
                {"alike_from_m", rounded(d.alike_from_m)},
                {"alike", place(d.alike)}};
    }

    Json ratio() const {
        const light::KeyAndFill& l = r_.levels;
        Json j{{"key_lx", rounded(l.key_lx, 4)}, {"fill_lx", rounded(l.fill_lx, 4)}};
        const bool both = l.key_lx > 0 && l.fill_lx > 0;
        using enum light::RatioConvention;
        j["key_to_fill"] = both ? Json(rounded(l.ratio(key_to_fill), 4)) : Json();
        j["key_plus_fill_to_fill"] =
            both ? Json(rounded(l.ratio(key_plus_fill_to_fill), 4)) : Json();
        j["key_to_fill_stops"] = both ? Json(rounded(l.stops(key_to_fill), 4)) : Json();
        return j;
    }

    Json battery() const {
        Json j{{"burns_min", lamp_.battery_h ? Json(rounded(*lamp_.battery_h * 60, 4)) : Json()},
               {"hold_min", q_.hold ? Json(rounded(q_.hold->count() / 60, 4)) : Json()},
               {"enough", nullptr}};
        if (lamp_.battery_h && q_.hold) j["enough"] = *lamp_.battery_h * 3600 >= q_.hold->count();
        return j;
    }

    Json fill() const {
        if (!r_.fill || !q_.fill) return nullptr;
        const study::FillAnswer& f = *r_.fill;
        return {{"lamp", study_.location().lamps[q_.fill->lamp].name},
                {"ratio", rounded(q_.fill->ratio)},
                {"convention", light::words(q_.fill->convention)},
                {"wanted_fill_lx", rounded(f.wanted_fill_lx, 4)},
                {"lamp_lx", rounded(f.lamp_lx, 4)},
                {"distance_m", number(f.distance_m)},
                {"placed_distance_m", number(f.placed_m)},
                {"placed_lx", number(f.placed_lx, 4)},
                {"placed_dim_stops", number(f.placed_dim_stops, 4)},
                {"blocked_by", f.blocked ? Json(room::words(*f.blocked, room_)) : Json()}};
    }

    const study::LampReport& r_;
    const study::LampQuestion& q_;
    const study::RoomStudy& study_;
    const room::Room& room_;
    const site::Lamp& lamp_;
};

}  // namespace

Json json_of(const study::LampReport& report, const study::LampQuestion& question,
             const study::RoomStudy& study) {
    return LampDocument{report, question, study}.make();
}

}  // namespace keyhour::tell
