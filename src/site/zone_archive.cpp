#include "zone_archive.hpp"

#include <algorithm>
#include <charconv>

#include "tzif.hpp"
#include "zone_archive_bytes.hpp"
#include "zone_files.hpp"

namespace keyhour::site {
namespace {

/// The text up to the mark, which is taken off with it; all of it where there is no mark.
std::string_view take(std::string_view& text, char mark) {
    const std::string_view taken = text.substr(0, text.find(mark));
    text.remove_prefix(std::min(taken.size() + 1, text.size()));
    return taken;
}

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
    version_ = take(lines, '\n');
    while (!lines.empty()) {
        std::string_view line = take(lines, '\n');
        const std::string_view name = take(line, ' ');
        const std::size_t begin = number(take(line, ' ')), size = number(take(line, ' '));
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
