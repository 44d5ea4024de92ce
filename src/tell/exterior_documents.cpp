#include "exterior_documents.hpp"

#include <nlohmann/json.hpp>

#include "instants.hpp"
#include "keyhour/site/dates.hpp"
#include "late_light_documents.hpp"
#include "words/names.hpp"

namespace keyhour::tell {
namespace {

Json utc_or_null(const std::optional<Instant>& t) {
    return t ? Json(utc(*t)) : Json();
}

double minutes(Seconds s) {
    return rounded(s.count() / 60, 5);
}

double deg(Angle a) {
    return rounded(a.in_degrees());
}

double deg(Altitude a) {
    return deg(a.above_horizon);
}

Json span(const study::Span& s) {
    return {{"start_utc", utc(s.from)}, {"end_utc", utc(s.to)}, {"min", minutes(s.length())}};
}

Json spans(const std::vector<study::Span>& list) {
    Json j = Json::array();
    for (const study::Span& s : list)
        j.push_back(span(s));
    return j;
}

Json direct(const std::vector<study::DirectSpan>& list, const site::Zone& zone) {
    Json j = Json::array();
    for (const study::DirectSpan& d : list)
        j.push_back({{"start_utc", utc(d.span.from)},
                     {"end_utc", utc(d.span.to)},
                     {"start_local", site::iso_local(d.span.from, zone, fraction_digits)},
                     {"end_local", site::iso_local(d.span.to, zone, fraction_digits)},
                     {"min", minutes(d.span.length())},
                     {"begins_by", d.begins_by},
                     {"ends_by", d.ends_by}});
    return j;
}

Json sides(const std::vector<study::SideSpan>& list) {
    Json j = Json::array();
    for (const study::SideSpan& s : list) {
        Json one = span(s.span);
        one["side"] = words::name(s.side);
        j.push_back(std::move(one));
    }
    return j;
}

Json late(const std::vector<study::LateLight>& list) {
    Json j = Json::array();
    for (const study::LateLight& l : list) {
        Json one = span({l.start, l.end, false, false});
        one["evening"] = l.evening;
        one.update(sun_in_late_light_json(l));
        j.push_back(std::move(one));
    }
    return j;
}

Json starts(const std::vector<study::SafeStart>& list, const site::Zone& zone) {
    const auto local = [&](Instant t) { return site::iso_local(t, zone, fraction_digits); };
    Json j = Json::array();
    for (const study::SafeStart& s : list) {
        Json one = span(s.light);
        one["start_local"] = local(s.light.from);
        one["end_local"] = local(s.light.to);
        one["latest_start_local"] = s.latest ? Json(local(*s.latest)) : Json();
        one["latest_start_utc"] = utc_or_null(s.latest);
        one["slack_min"] = minutes(s.slack);
        j.push_back(std::move(one));
    }
    return j;
}

const char* reason(study::NoDirect why) {
    return why == study::NoDirect::stays_in_shade ? "stays_in_shade" : "sun_stays_down";
}

Json json_of(const study::MoonSight& m) {
    return {{"utc", utc(m.at)},
            {"azimuth_deg", rounded_turn(m.position.azimuth.from_north)},
            {"altitude_deg", deg(m.position.true_altitude)},
            {"apparent_altitude_deg", deg(m.position.apparent_altitude)},
            {"distance_km", rounded(m.position.distance_km, 1)},
            {"illuminated_fraction", rounded(m.illuminated_fraction, 5)},
            {"waxing", m.waxing},
            {"hidden", m.hidden},
            {"level_lx", rounded(m.level_lx, 5)}};
}

Json moon(const study::SpotDay& day) {
    Json j;
    j["state"] = nullptr;
    if (day.moon == sun::Side::always_above) j["state"] = "moon_stays_up";
    if (day.moon == sun::Side::always_below) j["state"] = "moon_stays_down";
    j["events"] = Json::array();
    for (const sun::Crossing& c : day.moon_rise_and_set)
        j["events"].push_back({{"kind", c.upward ? "rise" : "set"}, {"utc", utc(c.at)}});
    j["sights"] = Json::array();
    for (const study::MoonSight& m : day.moon_sights)
        j["sights"].push_back(json_of(m));
    return j;
}

Json band_json(const light::Band& b) {
    return Json::array({rounded(b.low, 4), rounded(b.likely, 4), rounded(b.high, 4)});
}

Json fall(const std::optional<study::Fall>& f) {
    if (!f) return nullptr;
    return Json::array({rounded(f->low, 4), rounded(f->likely, 4), rounded(f->high, 4)});
}

Json shadow(const std::optional<study::Shadow>& s) {
    if (!s) return nullptr;
    return {{"toward_deg", rounded_turn(s->toward.from_north)},
            {"person_m", rounded(s->person_m, 5)},
            {"stand_m", rounded(s->stand_m, 5)}};
}

Json json_of(const study::SpotInstant& now, const site::Zone& zone) {
    Json j;
    j["utc"] = utc(now.at);
    j["local"] = site::iso_local(now.at, zone, fraction_digits);
    j["azimuth_deg"] = rounded_turn(now.sun.azimuth.from_north);
    j["altitude_deg"] = deg(now.sun.true_altitude);
    j["apparent_altitude_deg"] = deg(now.sun.apparent_altitude);
    j["in_direct_light"] = now.lit;
    j["shaded_by"] = now.lit ? Json() : Json(now.shaded_by);
    j["through_trees"] = rounded(now.through_trees, 5);
    j["key_angle_deg"] = deg(now.key_angle);
    j["side"] = words::name(now.side);
    j["sun_in_frame"] = now.in_frame;
    j["sun_in_upright_frame"] = now.in_frame_upright;
    j["incidence_on_facade_deg"] = now.incidence ? Json(deg(*now.incidence)) : Json();
    j["shadow"] = shadow(now.shadow);
    j["direct_normal_lx"] = band_json(now.sky.direct_normal_lx);
    j["sky_horizontal_lx"] = band_json(now.sky.diffuse_horizontal_lx);
    j["direct_kelvin"] =
        now.sky.likely.direct_kelvin ? Json(rounded(*now.sky.likely.direct_kelvin, 0)) : Json();
    j["direct_stops_lost_per_10_min"] = fall(now.direct_fall);
    j["sky_stops_lost_per_10_min"] = fall(now.sky_fall);
    j["moon"] = json_of(now.moon);
    return j;
}

}  // namespace

Json json_of(const study::SpotSettings& s) {
    const auto band_of = [](const study::LateLightBand& b) {
        return Json::array({deg(b.low), deg(b.high)});
    };
    return {{"late_light_deg", band_of(s.late_light)},
            {"low_sun_deg", band_of(s.low_sun)},
            {"front_below_deg", s.front_below_deg},
            {"back_above_deg", s.back_above_deg},
            {"raking_deg", Json::array({s.raking_from_deg, s.raking_to_deg})},
            {"person_m", s.person_m},
            {"stand_m", s.stand_m},
            {"set_up_min", minutes(s.set_up)},
            {"shot_min", minutes(s.shot)},
            {"floor_lx", s.floor_lx ? Json(*s.floor_lx) : Json()}};
}

Json json_of(const study::SpotDay& day, const std::vector<study::SpotInstant>& instants,
             const study::SpotLight& of) {
    const site::Zone& zone = of.location().site.zone;
    const site::Spot& spot = of.spot();
    Json j;
    j["spot"] = spot.name;
    j["camera_bearing_deg"] = rounded_turn(wrapped_turn(spot.camera_bearing));
    j["wants"] = words::name(spot.wants);
    j["direct"] = direct(day.direct, zone);
    j["no_direct"] =
        day.no_direct == study::NoDirect::has_some ? Json() : Json(reason(day.no_direct));
    j["sides"] = sides(day.sides);
    j["wanted"] = starts(day.for_wanted, zone);
    j["sun_in_frame"] = spans(day.in_frame);
    j["sun_in_upright_frame"] = spans(day.in_frame_upright);
    j["facade"] = nullptr;
    if (spot.facade_faces)
        j["facade"] = {{"faces_deg", rounded_turn(wrapped_turn(*spot.facade_faces))},
                       {"lit", spans(day.on_facade)},
                       {"raking", spans(day.raking)}};
    j["late_light"] = late(day.late_light);
    j["low_sun"] = late(day.low_sun);
    j["for_late_light"] = starts(day.for_late_light, zone);
    j["set_utc"] = utc_or_null(day.set);
    j["civil_dusk_utc"] = utc_or_null(day.civil_dusk);
    j["nautical_dusk_utc"] = utc_or_null(day.nautical_dusk);
    j["sky_below_floor_utc"] = utc_or_null(day.below_floor);
    j["moon"] = moon(day);
    j["instants"] = Json::array();
    for (const study::SpotInstant& now : instants)
        j["instants"].push_back(json_of(now, zone));
    return j;
}

namespace {

/// Adds between which times the ends of the spot's direct light lie.
void add_ends(Json& spot, const std::vector<study::SpotEnsemble::Ends>& ends) {
    const auto between = [](const std::optional<study::Span>& span) {
        return span ? Json::array({utc(span->from), utc(span->to)}) : Json();
    };
    for (std::size_t i = 0; i < ends.size(); ++i) {
        spot["direct"][i]["starts_between_utc"] = between(ends[i].begins);
        spot["direct"][i]["ends_between_utc"] = between(ends[i].ends);
    }
}

/// Street and yard lamps at a spot.
Json lamps_json(const ask::SpotAnswer& answer) {
    const site::Location& location = answer.light.location();
    Json j{{"ground_lx", rounded(study::ground_lx(answer.lamps), 5)},
           {"sky_below_utc", utc_or_null(answer.sky_below)},
           {"list", Json::array()}};
    for (const study::LampAtSpot& here : answer.lamps) {
        const site::Lamp& lamp = location.lamps[here.lamp];
        j["list"].push_back(
            {{"lamp", lamp.name},
             {"along_ground_m", rounded(here.along_ground_m)},
             {"height_m", rounded(lamp.height_m.value_or(0))},
             {"ground_lx", rounded(here.ground_lx, 5)},
             {"eye_lx", rounded(here.eye_lx, 5)},
             {"kelvin", rounded(lamp.kelvin)},
             {"blocked_by", here.blocked_by.empty() ? Json() : Json(here.blocked_by)}});
    }
    return j;
}

}  // namespace

Json json_of(const ask::SpotAnswer& answer) {
    Json j = json_of(answer.day, answer.rows, answer.light);
    add_ends(j, answer.ends);
    j["lamps"] = lamps_json(answer);
    return j;
}

Json json_of(const study::FacadeLight& light, const study::RoomStudy& study) {
    const room::Room& room = study.room();
    Json j;
    j["building"] = room.buildings[light.building].name;
    j["kind"] = words::name(light.kind);
    j["window"] = room.windows[light.window].name;
    j["spans"] = Json::array();
    for (const study::ThrownBack& visit : light.visits) {
        Json one = span(visit.span);
        one["marks"] = Json::array();
        for (const std::size_t mark : visit.marks)
            one["marks"].push_back(room.marks[mark].name);
        j["spans"].push_back(std::move(one));
    }
    return j;
}

}  // namespace keyhour::tell
