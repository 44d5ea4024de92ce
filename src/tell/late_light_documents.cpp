#include "late_light_documents.hpp"

#include <nlohmann/json.hpp>

#include "instants.hpp"
#include "light_documents.hpp"

namespace keyhour::tell {
namespace {

Json stretch(const study::LateStretch& s) {
    constexpr int night_lx_decimals = 4;
    Json j{{"start_utc", utc(s.span.from)},
           {"end_utc", utc(s.span.to)},
           {"min", rounded(s.span.length().count() / 60, 5)},
           {"in_sun", s.in_sun},
           {"sky_lx", nullptr},
           {"sky_stops_lost_per_10_min", nullptr}};
    if (!s.sky) return j;
    j["sky_lx"] = {{"at_start", tell::json_of(s.sky->at_start_lx, night_lx_decimals)},
                   {"at_end", tell::json_of(s.sky->at_end_lx, night_lx_decimals)}};
    j["sky_stops_lost_per_10_min"] = {{"at_start", rounded(s.sky->first_stops, 4)},
                                      {"at_end", rounded(s.sky->last_stops, 4)}};
    return j;
}

}  // namespace

Json sun_in_late_light_json(const study::LateLight& light) {
    const Json at = light.sun_at ? Json(utc(*light.sun_at)) : Json();
    Json j{{"sun_goes_utc", light.evening ? at : Json()},
           {"sun_comes_utc", light.evening ? Json() : at},
           {"sun_behind", light.behind.empty() ? Json() : Json(light.behind)},
           {"stretches", Json::array()}};
    for (const study::LateStretch& s : light.stretches)
        j["stretches"].push_back(stretch(s));
    return j;
}

}  // namespace keyhour::tell
