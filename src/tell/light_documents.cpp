#include "light_documents.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <string>

#include "keyhour/light/lighting_ratio.hpp"
#include "words/names.hpp"

namespace keyhour::tell {
namespace {

using light::Band;
using study::LightDrift;
using study::MarkLight;

constexpr int lx_decimals = 1, stop_decimals = 2, ratio_decimals = 2, kelvin_decimals = 0;

Json figure(const std::optional<double>& value, int decimals) {
    return value ? Json(rounded(*value, decimals)) : Json();
}

Json at_ends(const std::optional<double>& start, const std::optional<double>& end, int decimals) {
    return {{"at_start", figure(start, decimals)}, {"at_end", figure(end, decimals)}};
}

/// Likely at both ends; low and high over both.
Json over_ends(const Band& start, const Band& end, int decimals) {
    return {{"at_start", rounded(start.likely, decimals)},
            {"at_end", rounded(end.likely, decimals)},
            {"low", rounded(std::min(start.low, end.low), decimals)},
            {"high", rounded(std::max(start.high, end.high), decimals)}};
}

Json over_ends(const std::optional<Band>& start, const std::optional<Band>& end, int decimals) {
    return start && end ? over_ends(*start, *end, decimals) : Json();
}

template <class Function>
Band of_band(const Band& band, const Function& f) {
    return {f(band.low), f(band.likely), f(band.high)};
}

/// key to fill n:1 at both ends, by one of the two conventions.
Json ratios(const LightDrift& d, light::RatioConvention convention) {
    if (!d.at_start.key_to_fill_stops || !d.at_end.key_to_fill_stops) return nullptr;
    return at_ends(d.at_start.likely().ratio(convention), d.at_end.likely().ratio(convention),
                   ratio_decimals);
}

void add_levels(Json& j, const LightDrift& d) {
    const MarkLight &a = d.at_start, &b = d.at_end;
    j["level_lx"] = over_ends(a.key_lx, b.key_lx, lx_decimals);
    j["fill_lx"] = over_ends(a.fill_lx, b.fill_lx, lx_decimals);
    j["key_to_fill_stops"] = over_ends(a.key_to_fill_stops, b.key_to_fill_stops, stop_decimals);
    j["key_kelvin"] = at_ends(a.key_kelvin, b.key_kelvin, kelvin_decimals);
}

Json levels(const LightDrift& d) {
    Json j;
    add_levels(j, d);
    return j;
}

Json movement(const LightDrift& d) {
    return {{"key_stops", rounded(d.key_stops(), stop_decimals)},
            {"key_to_fill_stops", figure(d.ratio_stops(), stop_decimals)},
            {"key_mired", figure(d.key_mired(), 1)}};
}

Json meter(const LightDrift& d, const study::CameraSetting& camera) {
    const Band start = d.at_start.metered_lx(), end = d.at_end.metered_lx();
    const auto ev = [&](double lx) {
        return light::ev_at_iso_100(lx, camera.exposure.meter_constant);
    };
    Json j;
    j["incident_lx"] = over_ends(start, end, lx_decimals);
    j["ev_iso_100"] = over_ends(of_band(start, ev), of_band(end, ev), stop_decimals);
    if (!camera.is_given) return j;
    const auto t_number = [&](double lx) { return light::t_number(lx, camera.exposure); };
    const Band first = of_band(start, t_number), last = of_band(end, t_number);
    const auto t_stop = [](double number) {
        return std::string{light::TStopText{light::nearest_t_stop(number)}.view()};
    };
    j["t_number"] = over_ends(first, last, stop_decimals);
    j["t_stop"] = {{"at_start", t_stop(first.likely)}, {"at_end", t_stop(last.likely)}};
    if (!camera.wish) return j;
    const Band a = study::stops_over(start, *camera.wish), b = study::stops_over(end, *camera.wish);
    j["nd_stops"] = over_ends(a, b, stop_decimals);
    j["nd_density"] =
        over_ends(of_band(a, light::nd_density), of_band(b, light::nd_density), stop_decimals);
    return j;
}

Json patch(const std::optional<study::PatchContrast>& c, const room::Room& room) {
    if (!c) return nullptr;
    return {{"surface", room::words(c->surface, room)},
            {"patch_lx", rounded(c->patch_lx, lx_decimals)},
            {"patch_cd_m2", rounded(c->patch_cd_m2, lx_decimals)},
            {"unlit_wall_cd_m2", rounded(c->unlit_wall_cd_m2, lx_decimals)},
            {"stops", rounded(c->stops(), stop_decimals)},
            {"ratio", rounded(c->ratio(), ratio_decimals)}};
}

}  // namespace

Json json_of(const Band& band, int decimals) {
    return {{"low", rounded(band.low, decimals)},
            {"likely", rounded(band.likely, decimals)},
            {"high", rounded(band.high, decimals)}};
}

Json json_of(const study::LitMark& at, const room::Room& room) {
    const MarkLight& m = at.clear;
    Json j;
    j["key_window"] = room.windows[at.key_window].name;
    j["key_lx"] = json_of(m.key_lx, lx_decimals);
    j["fill_lx"] = json_of(m.fill_lx, lx_decimals);
    j["other_windows_lx"] = json_of(m.other_windows_lx, lx_decimals);
    j["key_to_fill_stops"] =
        m.key_to_fill_stops ? json_of(*m.key_to_fill_stops, stop_decimals) : Json();
    j["key_kelvin"] = figure(m.key_kelvin, kelvin_decimals);
    j["fill_kelvin"] = figure(m.fill_kelvin, kelvin_decimals);
    j["mix_kelvin"] = figure(m.mix_kelvin, kelvin_decimals);
    j["mean_cloud_key_lx"] = json_of(at.mean_cloud_lx, lx_decimals);
    j["overcast_key_lx"] = json_of(at.overcast_lx, lx_decimals);
    j["windows"] = Json::array();
    for (std::size_t w = 0; w < room.windows.size(); ++w) {
        const study::WindowLight& l = m.windows[w];
        j["windows"].push_back({{"window", room.windows[w].name},
                                {"cover", words::name(room.windows[w].cover)},
                                {"direct_lx", rounded(l.direct_lx, lx_decimals)},
                                {"sky_lx", rounded(l.sky_lx, lx_decimals)},
                                {"ground_lx", rounded(l.ground_lx, lx_decimals)},
                                {"cloth_lx", rounded(l.cloth_lx, lx_decimals)}});
    }
    return j;
}

Json json_of(const std::vector<study::BeamInHaze>& beams, const room::Room& room) {
    Json list = Json::array();
    for (const study::BeamInHaze& beam : beams)
        list.push_back({{"window", room.windows[beam.window].name},
                        {"camera", room.cameras[beam.camera].name},
                        {"off_axis_deg", rounded(beam.off_axis.in_degrees(), 2)},
                        {"scattering_deg", rounded(beam.scattering.in_degrees(), 2)},
                        {"in_frame_m", rounded(beam.in_frame_m, 3)},
                        {"stops_over_side", rounded(beam.stops_over_side(), stop_decimals)},
                        {"sun_in_lens", beam.sun_in_lens}});
    return list;
}

Json json_of(const study::CameraSetting& camera) {
    const light::Exposure& e = camera.exposure;
    Json j{{"iso", e.iso},
           {"fps", e.fps},
           {"shutter_deg", e.shutter_deg},
           {"exposure_s", rounded(light::exposure_time_s(e))},
           {"meter_constant_lx_s", e.meter_constant},
           {"wanted", nullptr}};
    if (const auto& wish = camera.wish)
        j["wanted"] = {{"t_number", rounded(wish->t_number, 3)},
                       {"level_lx", rounded(wish->level_lx(), lx_decimals)},
                       {"tolerance_stops", rounded(wish->tolerance_stops, 3)}};
    return j;
}

void add_light(Json& j, const study::KeyLight* light, const study::CameraSetting& camera,
               const room::Room& room) {
    if (!light) {
        for (const char* name :
             {"level_lx", "fill_lx", "other_windows_lx", "key_to_fill_stops", "key_kelvin",
              "key_to_fill_ratio", "key_plus_fill_to_fill_ratio", "fill_kelvin", "mix_kelvin",
              "light_drift", "meter", "patch_over_unlit_wall", "mean_cloud", "overcast",
              "with_sheer", "with_blackout", "haze"})
            j[name] = nullptr;
        return;
    }
    const LightDrift& clear = light->clear;
    add_levels(j, clear);
    j["other_windows_lx"] =
        over_ends(clear.at_start.other_windows_lx, clear.at_end.other_windows_lx, lx_decimals);
    j["key_to_fill_ratio"] = ratios(clear, light::RatioConvention::key_to_fill);
    j["key_plus_fill_to_fill_ratio"] = ratios(clear, light::RatioConvention::key_plus_fill_to_fill);
    j["fill_kelvin"] =
        at_ends(clear.at_start.fill_kelvin, clear.at_end.fill_kelvin, kelvin_decimals);
    j["mix_kelvin"] = at_ends(clear.at_start.mix_kelvin, clear.at_end.mix_kelvin, kelvin_decimals);
    j["light_drift"] = movement(clear);
    j["meter"] = meter(clear, camera);
    j["patch_over_unlit_wall"] = {{"at_start", patch(light->patch_at_start, room)},
                                  {"at_end", patch(light->patch_at_end, room)}};
    j["mean_cloud"] = levels(light->mean_cloud);
    j["overcast"] = levels(light->overcast);
    j["with_sheer"] = levels(light->with_sheer);
    j["with_blackout"] = {{"fill_lx", over_ends(light->with_blackout.at_start.fill_lx,
                                                light->with_blackout.at_end.fill_lx, lx_decimals)}};
    j["haze"] = json_of(light->beams, room);
}

}  // namespace keyhour::tell
