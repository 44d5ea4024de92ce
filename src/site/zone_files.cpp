#include "zone_files.hpp"

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <system_error>

#include "taken_text.hpp"

namespace keyhour::site {
namespace {

constexpr std::array kFolders{"/usr/share/zoneinfo", "/usr/share/uclibc/zoneinfo"};
// What lies among the zones and is none: tables, and the zones once more, with leap seconds too.
constexpr std::array kNoZones{"Factory",     "iso3166.tab",      "right",        "+VERSION",
                              "version",     "zone.tab",         "zone1970.tab", "tzdata.zi",
                              "leapseconds", "leap-seconds.list"};
constexpr std::array kTables{"zone1970.tab", "zone.tab"};

std::optional<int> digits(std::string_view text) {
    int value = 0;
    for (const char c : text) {
        if (c < '0' || c > '9') return std::nullopt;
        value = 10 * value + (c - '0');
    }
    return value;
}

// Sign, then degrees in `degree_digits`, minutes, and seconds if there is room for them.
std::optional<double> signed_degrees(std::string_view text, std::size_t degree_digits) {
    const bool with_seconds = text.size() == 1 + degree_digits + 4;
    if (!with_seconds && text.size() != 1 + degree_digits + 2) return std::nullopt;
    const auto d = digits(text.substr(1, degree_digits));
    const auto m = digits(text.substr(1 + degree_digits, 2));
    const auto s = with_seconds ? digits(text.substr(3 + degree_digits, 2)) : std::optional{0};
    if (!d || !m || !s) return std::nullopt;
    const double size = *d + *m / 60.0 + *s / 3600.0;
    return text[0] == '-' ? -size : size;
}

std::optional<std::string> contents(const std::string& path) {
    std::ifstream in{path, std::ios::binary};
    if (!in) return std::nullopt;
    std::string text;
    std::array<char, 4096> part;
    while (in.read(part.data(), part.size()), in.gcount() > 0)
        text.append(part.data(), static_cast<std::size_t>(in.gcount()));
    return text;
}

/// @param name  of a file or folder, without what it lies in
bool may_be_zone(std::string_view name) {
    return !name.empty() && name.front() != '.' && !name.starts_with("posix") &&
           std::ranges::find(kNoZones, name) == kNoZones.end();
}

}  // namespace

std::string zone_folder() {
    for (const char* folder : kFolders) {
        std::error_code error;
        if (std::filesystem::is_directory(folder, error) &&
            !std::filesystem::is_empty(folder, error) && !error)
            return folder;
    }
    return {};
}

std::vector<std::string> zone_names() {
    namespace fs = std::filesystem;
    const std::string folder = zone_folder();
    std::vector<std::string> names;
    std::error_code error, gone;  // gone: a link that leads nowhere
    for (fs::recursive_directory_iterator
             at{folder, fs::directory_options::skip_permission_denied, error},
         end;
         !error && at != end; at.increment(error)) {
        if (!may_be_zone(at->path().filename().native()))
            at.disable_recursion_pending();
        else if (at->is_regular_file(gone))
            names.push_back(at->path().native().substr(folder.size() + 1));
    }
    std::ranges::sort(names);
    return names;
}

bool has_zone_file(const std::string& name) {
    const std::string folder = zone_folder();
    for (std::size_t begin = 0, end = 0; end != std::string::npos; begin = end + 1) {
        end = name.find('/', begin);
        if (!may_be_zone(name.substr(begin, end - begin))) return false;
    }
    std::error_code error;
    return !folder.empty() && std::filesystem::is_regular_file(folder + '/' + name, error);
}

std::optional<std::string> zone_file(const std::string& name) {
    if (!has_zone_file(name)) return std::nullopt;
    return contents(zone_folder() + '/' + name);
}

std::optional<ZonePlace> read_iso6709(std::string_view text) {
    const std::size_t second = text.find_first_of("+-", 1);
    if (second == std::string_view::npos || text.find_first_of("+-") != 0) return std::nullopt;
    const auto latitude = signed_degrees(text.substr(0, second), 2);
    const auto longitude = signed_degrees(text.substr(second), 3);
    if (!latitude || !longitude) return std::nullopt;
    return ZonePlace{*latitude, *longitude};
}

namespace {

/// The zone tables, the newer one's places first.
ZonePlaces places_of_tables() {
    ZonePlaces places;
    const std::string folder = zone_folder();
    if (folder.empty()) return places;
    for (const char* table : kTables) {
        const std::string text = contents(folder + '/' + table).value_or("");
        for (std::string_view lines = text; !lines.empty();) {
            std::string_view line = take_up_to('\n', lines);
            if (line.starts_with('#') || take_up_to('\t', line).empty()) continue;  // countries
            const std::string_view place = take_up_to('\t', line), zone = take_up_to('\t', line);
            if (const auto at = read_iso6709(place)) places.emplace(zone, *at);
        }
    }
    return places;
}

}  // namespace

const ZonePlaces& zone_places() {
    static const auto places = places_of_tables();  // read once a run
    return places;
}

}  // namespace keyhour::site
