#include "zone_table_document.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

namespace keyhour::tell {
namespace {

bool is_change(const Json& json) {
    return json.is_array() && json.size() == 4 && json[0].is_number_integer() &&
           json[1].is_number_integer() && json[2].is_boolean() && json[3].is_string();
}

site::ZoneChange change_in(const Json& json) {
    return {json[0].get<std::int64_t>(),
            {json[1].get<std::int32_t>(), json[2].get<bool>(), json[3].get<std::string>()}};
}

tl::expected<site::ZoneRow, std::string> row_in(const std::string& name, const Json& json) {
    site::ZoneRow row;
    row.name = name;
    const Json* rule = &json;
    if (json.is_object()) {
        const auto found = json.find("rule");
        rule = found == json.end() ? nullptr : &*found;
        if (const auto changes = json.find("changes"); changes != json.end()) {
            if (!changes->is_array() || !std::ranges::all_of(*changes, is_change))
                return tl::unexpected{
                    fmt::format("zone \"{}\": its changes are not understood", name)};
            for (const Json& change : *changes)
                row.changes.push_back(change_in(change));
        }
        if (const auto place = json.find("place"); place != json.end()) {
            const auto is_number = [](const Json& j) { return j.is_number(); };
            if (!place->is_array() || place->size() != 2 || !std::ranges::all_of(*place, is_number))
                return tl::unexpected{
                    fmt::format("zone \"{}\": its place is not understood", name)};
            row.place = site::ZonePlace{(*place)[0].get<double>(), (*place)[1].get<double>()};
        }
    }
    if (rule == nullptr || !rule->is_string())
        return tl::unexpected{fmt::format("zone \"{}\" has no rule", name)};
    row.rule = rule->get<std::string>();
    return row;
}

}  // namespace

Json json_of(const std::vector<site::ZoneRow>& table) {
    Json out = Json::object();
    for (const site::ZoneRow& row : table) {
        if (row.changes.empty() && !row.place) {
            out[row.name] = row.rule;
            continue;
        }
        Json told{{"rule", row.rule}};
        for (const site::ZoneChange& c : row.changes)
            told["changes"].push_back(Json::array(
                {c.at_s, c.offset.east_s, c.offset.daylight_saving, c.offset.abbreviation}));
        if (row.place)
            // Seconds of arc: words that name the place are the same from both.
            told["place"] = Json::array(
                {rounded(row.place->latitude_deg, 5), rounded(row.place->longitude_deg, 5)});
        out[row.name] = std::move(told);
    }
    return out;
}

tl::expected<std::vector<site::ZoneRow>, std::string> zone_table_in(const Json& json) {
    if (!json.is_object())
        return tl::unexpected{std::string{"accepted: an object of zones, each by its name"}};
    std::vector<site::ZoneRow> rows;
    for (const auto& [name, value] : json.items()) {
        auto row = row_in(name, value);
        if (!row) return tl::unexpected{row.error()};
        rows.push_back(*std::move(row));
    }
    return rows;
}

}  // namespace keyhour::tell
