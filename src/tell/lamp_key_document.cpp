#include "tell/lamp_key_document.hpp"

#include <nlohmann/json.hpp>

#include "instants.hpp"
#include "tell/lamp_document.hpp"

namespace keyhour::tell {
namespace {

Json hour_json(const study::LampHour& hour) {
    return {{"utc", utc(hour.at)},
            {"key_lx", rounded(hour.levels.key_lx, 4)},
            {"fill_lx", rounded(hour.levels.fill_lx, 4)},
            {"daylight_key_lx", rounded(hour.daylight_key_lx, 4)},
            {"daylight_fill_lx", rounded(hour.daylight_fill_lx, 4)},
            {"key_to_fill_stops", rounded(hour.key_to_fill_stops, 3)},
            {"key_mired_from_lamp", hour.key_mired ? Json(rounded(*hour.key_mired, 2)) : Json()}};
}

Json span_json(const std::optional<study::Span>& span) {
    if (!span) return nullptr;
    return Json::array(
        {site::iso_utc(span->from, fraction_digits), site::iso_utc(span->to, fraction_digits)});
}

}  // namespace

Json json_of(const study::PlannedLock& planned, const study::RoomStudy& study) {
    const study::LampDay& day = planned.day;
    Json j;
    j["lamp"] = json_of(*day.lamp, *planned.question.lamp, study);
    j["free_of_sun"] = span_json(day.span ? day.span->span : std::nullopt);
    j["free_of_sun_sure"] = span_json(day.span ? day.span->sure : std::nullopt);
    j["cloth_against_lamp"] = Json::array();
    for (const study::ClothToHang& c : day.cloth_against_lamp)
        j["cloth_against_lamp"].push_back({{"window", study.room().windows[c.window].name},
                                           {"cloth_width_m", rounded(c.cloth.width_m)},
                                           {"cloth_height_m", rounded(c.cloth.height_m)},
                                           {"needed_by_utc", utc(c.needed_by)}});
    j["hours"] = Json::array();
    for (const study::LampHour& hour : day.hours)
        j["hours"].push_back(hour_json(hour));
    j["daylight"] = nullptr;
    if (day.move)
        j["daylight"] = {{"key_stops", rounded(day.move->key_stops, 3)},
                         {"ratio_stops", rounded(day.move->ratio_stops, 3)},
                         {"key_mired", rounded(day.move->key_mired, 2)},
                         {"most_off_lamp_mired", rounded(day.move->most_off_lamp_mired, 2)}};
    return j;
}

}  // namespace keyhour::tell
