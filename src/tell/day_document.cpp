#include "day_document.hpp"

#include <nlohmann/json.hpp>

#include "instants.hpp"
#include "keyhour/site/dates.hpp"
#include "late_light_documents.hpp"
#include "light_documents.hpp"

namespace keyhour::tell {
namespace {

Json json_of(const study::DayEvent& event, const site::Zone& zone) {
    Json e;
    e["kind"] = study::name(event.kind);
    e["utc"] = site::iso_utc(event.at, fraction_digits);
    e["local"] = site::iso_local(event.at, zone, fraction_digits);
    e["azimuth_deg"] = rounded_turn(event.azimuth.from_north);
    return e;
}

const char* name_of(study::DayState state) {
    return state == study::DayState::sun_always_up ? "sun_always_up" : "sun_always_down";
}

const char* why_absent(sun::Side side) {
    switch (side) {
        case sun::Side::always_above:
            return "sun_stays_above";
        case sun::Side::always_below:
            return "sun_stays_below";
        case sun::Side::crosses:
            break;
    }
    return "on_another_date";
}

}  // namespace

Json json_of(const study::Day& day, const site::Zone& zone, const study::LateLightBand& band) {
    Json d;
    d["date"] = site::iso_date(day.date);
    d["events"] = Json::array();
    for (const study::DayEvent& event : day.events)
        d["events"].push_back(json_of(event, zone));
    d["state"] = nullptr;
    if (day.state != study::DayState::sun_rises_or_sets) d["state"] = name_of(day.state);
    d["absent"] = Json::array();
    for (const study::AbsentEvent& absent : day.absent)
        d["absent"].push_back(
            {{"kind", study::name(absent.kind)}, {"why", why_absent(absent.sun)}});
    d["day_length_min"] = rounded(day.length.count() / 60, 5);
    Json& late = d["late_light"];
    late["low_deg"] = rounded(band.low.above_horizon.in_degrees());
    late["high_deg"] = rounded(band.high.above_horizon.in_degrees());
    late["intervals"] = Json::array();
    for (const study::LateLight& light : day.late_light) {
        Json one{{"start_utc", site::iso_utc(light.start, fraction_digits)},
                 {"start_local", site::iso_local(light.start, zone, fraction_digits)},
                 {"end_utc", site::iso_utc(light.end, fraction_digits)},
                 {"end_local", site::iso_local(light.end, zone, fraction_digits)},
                 {"evening", light.evening}};
        one.update(sun_in_late_light_json(light));
        late["intervals"].push_back(std::move(one));
    }
    return d;
}

namespace {

/// The light outside through the day.
Json light_json(const std::vector<study::DayLight>& light, const site::Zone& zone) {
    constexpr int night_lx_decimals = 4;  // night has thousandths
    const auto kelvin = [](const std::optional<double>& k) {
        return k ? Json(rounded(*k, 0)) : Json();
    };
    Json list = Json::array();
    for (const study::DayLight& l : light)
        list.push_back({{"utc", site::iso_utc(l.at, fraction_digits)},
                        {"local", site::iso_local(l.at, zone, fraction_digits)},
                        {"event", l.event ? Json(study::name(*l.event)) : Json()},
                        {"altitude_deg", rounded(l.true_altitude_deg)},
                        {"in_sun", l.in_sun},
                        {"clear_lx", tell::json_of(l.clear_lx, night_lx_decimals)},
                        {"mean_cloud_lx", rounded(l.mean_cloud_lx, night_lx_decimals)},
                        {"overcast_lx", rounded(l.overcast_lx, night_lx_decimals)},
                        {"sun_normal_lx", tell::json_of(l.sun_normal_lx, night_lx_decimals)},
                        {"sun_kelvin", kelvin(l.sun_kelvin)},
                        {"sky_kelvin", kelvin(l.sky_kelvin)},
                        {"mix_kelvin", kelvin(l.mix_kelvin)}});
    return list;
}

}  // namespace

Json json_of(const ask::DayAnswer& answer, const ask::DayRequest& request, const site::Zone& zone) {
    Json d = json_of(answer.day, zone, request.band);
    if (request.light) d["light"] = light_json(answer.light, zone);
    return d;
}

}  // namespace keyhour::tell
