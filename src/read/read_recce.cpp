#include "read_recce.hpp"

#include "fields.hpp"
#include "location_file.hpp"
#include "parse_toml.hpp"
#include "source_text.hpp"

namespace keyhour::read {
namespace {

/// Is a bearing given as a range, `faces = [193, 199]`?
bool is_range(const toml::table& bearing) {
    return bearing["faces"].is_array();
}

}  // namespace

site::Recce read_recce_text(std::string_view text, const Changes& changes) {
    SourceText source{text, "location"};
    ChangedSource changed{source};
    Findings findings{changed};
    toml::table table = parse_toml(source, findings);
    for (const Change& change : changes)
        if (auto problem = changed.apply(change, table)) findings.add(*std::move(problem));
    Fields root{table, "", findings};
    site::Recce recce;
    if (const toml::table* place = root.table("site", Need::optional, "[site]")) {
        Fields fields{*place, "[site]", findings};
        if (fields.choice("units", Need::optional, {"m", "ft"}) == std::size_t{1})
            recce.units = site::Units::feet;
    }
    const toml::table* bearing = table["room"]["bearing"].as_table();
    if (bearing == nullptr) return recce;
    Fields fields{*bearing, "bearing", findings};
    recce.bearing_measured = fields.date("measured", Need::optional);
    recce.bearing_within_given = fields.has("within_deg") || is_range(*bearing);
    return recce;
}

site::Recce read_recce(const std::string& path, const Changes& changes) {
    const auto text = location_text(path);
    return text ? read_recce_text(*text, changes) : site::Recce{};
}

}  // namespace keyhour::read
