#include "zone_archive.hpp"

#include <algorithm>
#include <charconv>

#include "taken_text.hpp"
#include "tzif.hpp"
#include "zone_archive_bytes.hpp"
#include "zone_files.hpp"

namespace keyhour::site {
namespace {

std::size_t number(std::string_view text) {
    std::size_t value = 0;
    std::from_chars(text.data(), text.data() + text.size(), value);
    return value;
}

}  // namespace

ZoneArchive::ZoneArchive(std::string_view bytes) {
    const std::size_t blank = bytes.find("\n\n");
    if (blank == std::string_view::npos) return;
    const std::string_view files = bytes.substr(blank + 2);
    std::string_view lines = bytes.substr(0, blank);
    version_ = take_up_to('\n', lines);
    while (!lines.empty()) {
        std::string_view line = take_up_to('\n', lines);
        const std::string_view name = take_up_to(' ', line);
        const std::size_t begin = number(take_up_to(' ', line)),
                          size = number(take_up_to(' ', line));
        if (begin > files.size()) continue;
        rows_.push_back({name, files.substr(begin, size)});
        if (const auto place = read_iso6709(line)) places_.emplace(name, *place);
    }
}

tl::expected<std::optional<NamedZone>, std::string> ZoneArchive::find(
    const std::string& name) const {
    const auto row = std::ranges::lower_bound(rows_, name, {}, &Row::name);
    if (row == rows_.end() || row->name != name) return std::nullopt;
    auto zone = zone_in(row->file);
    if (!zone) return tl::unexpected{"has a file among this program's zones that " + zone.error()};
    return std::optional{*std::move(zone)};
}

std::vector<std::string> ZoneArchive::names() const {
    std::vector<std::string> names;
    for (const Row& row : rows_)
        names.emplace_back(row.name);
    return names;
}

const ZoneArchive& carried_zones() {
    static const ZoneArchive zones{zone_archive_bytes()};
    return zones;
}

}  // namespace keyhour::site
