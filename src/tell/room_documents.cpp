#include "room_documents.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "instants.hpp"
#include "keyhour/site/dates.hpp"
#include "light_documents.hpp"

namespace keyhour::tell {
namespace {

std::string local(Instant t, const study::RoomStudy& study) {
    return site::iso_local(t, study.location().site.zone, fraction_digits);
}

Json pair_of(const study::Span& span) {
    return Json::array({utc(span.from), utc(span.to)});
}

Json angles(const double (&degrees)[2]) {
    return Json::array({rounded(degrees[0]), rounded(degrees[1])});
}

Json edge(const room::LimitingEdge& edge, const room::Room& room) {
    if (edge.kind == room::Edge::none) return nullptr;
    return room::words(edge, room);
}

Json camera_name(const std::optional<std::size_t>& camera, const room::Room& room) {
    if (!camera) return nullptr;
    return room.cameras[*camera].name;
}

Json covers(const std::vector<study::CoverSpan>& spans, const study::RoomStudy& study) {
    Json list = Json::array();
    for (const study::CoverSpan& span : spans)
        list.push_back({{"window", study.room().windows[span.window].name},
                        {"start_utc", utc(span.from)},
                        {"end_utc", utc(span.to)}});
    return list;
}

/// start, end, hold, sure and possible: the same for the sun's key and the lamp's.
template <class Interval>
void add_times(Json& j, const Interval& interval, const study::RoomStudy& study) {
    j["start_utc"] = interval.span ? Json(utc(interval.span->from)) : Json();
    j["end_utc"] = interval.span ? Json(utc(interval.span->to)) : Json();
    j["start_local"] = interval.span ? Json(local(interval.span->from, study)) : Json();
    j["end_local"] = interval.span ? Json(local(interval.span->to, study)) : Json();
    j["hold_min"] = rounded(interval.hold().count() / 60, 5);
    j["sure"] = interval.sure ? pair_of(*interval.sure) : Json();
    j["sure_min"] = rounded(interval.sure_hold().count() / 60, 5);
    j["possible"] = pair_of(interval.possible);
    j["begins_by"] = edge(interval.begins_by, study.room());
    j["ends_by"] = edge(interval.ends_by, study.room());
}

Json outlines(const room::Patch& patch) {
    Json rings = Json::array();
    for (const auto& ring : patch.outlines) {
        Json points = Json::array();
        for (const room::Point3 p : ring)
            points.push_back(Json::array({rounded(p.x), rounded(p.y), rounded(p.z)}));
        rings.push_back(std::move(points));
    }
    return rings;
}

}  // namespace

namespace {

Json json_of(const study::WindowPatch& p, const room::Room& room) {
    return {{"window", room.windows[p.window].name},
            {"surface", room::words(p.patch.surface, room)},
            {"area_m2", rounded(p.patch.area_m2)},
            {"edge_width_m", rounded(p.patch.edge_width_m)},
            {"outlines", outlines(p.patch)}};
}

void add_level(Json& j, const std::optional<study::PatchContrast>& c) {
    constexpr int patch_lx_decimals = 1, patch_stop_decimals = 2;
    j["level_lx"] = c ? Json(rounded(c->patch_lx, patch_lx_decimals)) : Json();
    j["luminance_cd_m2"] = c ? Json(rounded(c->patch_cd_m2, patch_lx_decimals)) : Json();
    j["over_unlit_wall_stops"] = c ? Json(rounded(c->stops(), patch_stop_decimals)) : Json();
}

}  // namespace

Json json_of(const ask::PatchAnswer& answer, const study::RoomStudy& study) {
    const auto& [instant, light, edge_bands_m] = answer;
    const room::Room& room = study.room();
    Json j;
    j["utc"] = utc(instant.at);
    j["local"] = local(instant.at, study);
    j["azimuth_deg"] = rounded(instant.sun.azimuth.from_north.in_degrees());
    j["altitude_deg"] = rounded(instant.sun.true_altitude.above_horizon.in_degrees());
    j["apparent_altitude_deg"] = rounded(instant.sun.apparent_altitude.above_horizon.in_degrees());
    j["patches"] = Json::array();
    for (std::size_t i = 0; i < instant.patches.size(); ++i) {
        j["patches"].push_back(json_of(instant.patches[i], room));
        if (light) add_level(j["patches"].back(), light->patches[i]);
        if (!edge_bands_m) continue;
        const std::optional<double>& band = (*edge_bands_m)[i];
        j["patches"].back()["edge_band_m"] = band ? Json(rounded(*band, 4)) : Json();
    }
    j["marks"] = Json::array();
    for (std::size_t mark = 0; mark < room.marks.size(); ++mark) {
        Json coverage = Json::object();
        for (const study::MarkCoverage& c : instant.coverages)
            if (c.mark == mark) coverage[room.windows[c.window].name] = rounded(c.fraction);
        j["marks"].push_back({{"mark", room.marks[mark].name}, {"coverage", coverage}});
        if (light) j["marks"].back()["light"] = json_of(light->marks[mark], room);
    }
    if (light) j["haze"] = json_of(light->beams, room);
    return j;
}

Json json_of(const study::KeyInterval& interval, const study::RoomStudy& study) {
    const room::Room& room = study.room();
    Json j;
    j["mark"] = room.marks[interval.mark].name;
    j["camera"] = camera_name(interval.camera, room);
    j["window"] = room.windows[interval.window].name;
    add_times(j, interval, study);
    const bool judged = interval.span && interval.camera;
    j["key_angle_deg"] = judged ? angles(interval.key_angle_deg) : Json();
    j["light_from"] = judged ? Json(interval.light_from_right ? "right" : "left") : Json();
    j["altitude_deg"] = interval.span ? angles(interval.altitude_deg) : Json();
    j["centre_hold_min"] =
        interval.centre ? Json(rounded(interval.centre->length().count() / 60, 5)) : Json();
    j["to_cover"] = covers(interval.to_cover, study);
    j["drift_m_per_min"] =
        interval.drift_m_per_min ? Json(rounded(*interval.drift_m_per_min)) : Json();
    j["patch_behind_on"] = interval.span ? Json(room::words(interval.behind, room)) : Json();
    return j;
}

namespace {

const char* name(study::Shortfall::Of of) {
    switch (of) {
        case study::Shortfall::Of::coverage:
            return "coverage";
        case study::Shortfall::Of::altitude:
            return "altitude_deg";
        case study::Shortfall::Of::key_angle:
            return "key_angle_deg";
    }
    return "";
}

}  // namespace

Json json_of(const study::Together& together, const study::RoomStudy& study) {
    Json j;
    j["marks"] = Json::array();
    for (const std::size_t mark : together.marks)
        j["marks"].push_back(study.room().marks[mark].name);
    j["start_utc"] = utc(together.span.from);
    j["end_utc"] = utc(together.span.to);
    j["hold_min"] = rounded(together.span.length().count() / 60, 5);
    j["sure"] = together.sure ? pair_of(*together.sure) : Json();
    return j;
}

Json json_of(const study::NearestMiss& miss, const study::RoomStudy& study) {
    const room::Room& room = study.room();
    Json j;
    j["mark"] = room.marks[miss.mark].name;
    j["camera"] = camera_name(miss.camera, room);
    j["window"] = room.windows[miss.window].name;
    j["reason"] = miss.reason;
    j["nearest_utc"] = miss.at ? Json(utc(*miss.at)) : Json();
    j["coverage"] = miss.at ? Json(rounded(miss.coverage)) : Json();
    j["altitude_deg"] = miss.at ? Json(rounded(miss.altitude_deg)) : Json();
    j["key_angle_deg"] = miss.key_angle_deg ? Json(rounded(*miss.key_angle_deg)) : Json();
    j["centre_hold_min"] =
        miss.centre ? Json(rounded(miss.centre->length().count() / 60, 5)) : Json();
    j["fails_by"] = edge(miss.edge, room);
    j["shortfalls"] = Json::array();
    for (const study::Shortfall& s : miss.shortfalls)
        j["shortfalls"].push_back(
            {{"setting", name(s.of)}, {"is", rounded(s.is)}, {"wanted", rounded(s.wanted)}});
    return j;
}

Json json_of(const study::SunFreeSpan& span, const study::RoomStudy& study) {
    const room::Room& room = study.room();
    Json j;
    j["mark"] = room.marks[span.mark].name;
    j["camera"] = camera_name(span.camera, room);
    j["window"] = room.windows[span.window].name;
    add_times(j, span, study);
    j["whole_day"] = span.whole_day;
    j["key_angle_deg"] = span.key_angle_deg ? Json(rounded(std::abs(*span.key_angle_deg))) : Json();
    j["light_from"] =
        span.key_angle_deg ? Json(*span.key_angle_deg > 0 ? "right" : "left") : Json();
    j["window_in_frame"] = span.key_angle_deg ? Json(span.window_in_frame) : Json();
    j["to_cover"] = covers(span.to_cover, study);
    return j;
}

Json json_of(const std::vector<study::CoverToHang>& covers, const study::RoomStudy& study,
             double overlap_m) {
    Json list = Json::array();
    for (const study::CoverToHang& cover : covers) {
        const study::ClothSize cloth = study::cloth_of(cover, overlap_m);
        list.push_back({{"window", study.room().windows[cover.window].name},
                        {"width_m", rounded(cover.width_m)},
                        {"height_m", rounded(cover.height_m)},
                        {"cloth_width_m", rounded(cloth.width_m)},
                        {"cloth_height_m", rounded(cloth.height_m)},
                        {"needed_by_utc", utc(cover.needed_by.value_or(cover.sure_by))},
                        {"needed_by_at_any_bearing_utc", utc(cover.sure_by)}});
    }
    return list;
}

Json json_of(const study::LockAnswer& answer, const study::RoomStudy& study, double overlap_m) {
    const room::Room& room = study.room();
    Json j;
    j["lock"] = {{"start_utc", utc(answer.lock.from)},
                 {"end_utc", utc(answer.lock.to)},
                 {"start_local", local(answer.lock.from, study)},
                 {"end_local", local(answer.lock.to, study)}};
    j["key_window"] = answer.key_window ? Json(room.windows[*answer.key_window].name) : Json();
    j["leaks"] = Json::array();
    for (const study::Leak& leak : answer.leaks) {
        Json l;
        l["window"] = room.windows[leak.window].name;
        l["start_utc"] = leak.span ? Json(utc(leak.span->from)) : Json();
        l["end_utc"] = leak.span ? Json(utc(leak.span->to)) : Json();
        l["possible"] = pair_of(leak.possible);
        l["begins_by"] = edge(leak.begins_by, room);
        l["ends_by"] = edge(leak.ends_by, room);
        l["surfaces"] = Json::array();
        for (const room::Surface& surface : leak.surfaces)
            l["surfaces"].push_back(room::words(surface, room));
        l["reaches_mark"] = !leak.marks.empty();
        l["marks"] = Json::array();
        for (const std::size_t mark : leak.marks)
            l["marks"].push_back(room.marks[mark].name);
        l["in_frame"] = !leak.cameras.empty();
        l["cameras"] = Json::array();
        for (const std::size_t camera : leak.cameras)
            l["cameras"].push_back(room.cameras[camera].name);
        j["leaks"].push_back(std::move(l));
    }
    j["covers"] = json_of(answer.covers, study, overlap_m);
    j["cover_area_m2"] = rounded(answer.cover_area_m2());
    j["lit_sheers"] = Json::array();
    for (const study::LitSheer& lit : answer.lit_sheers)
        j["lit_sheers"].push_back({{"window", room.windows[lit.window].name},
                                   {"start_utc", utc(lit.span.from)},
                                   {"end_utc", utc(lit.span.to)}});
    return j;
}

}  // namespace keyhour::tell
