#include "zone_files.hpp"

#include <array>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>
#include <system_error>
#include <unordered_map>

namespace keyhour::site {
namespace {

// Where date's tz library, as Debian builds it, looks.
constexpr std::array kFolders{"/usr/share/zoneinfo", "/usr/share/uclibc/zoneinfo"};
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

}  // namespace

std::string zone_folder() {
    for (const char* folder : kFolders) {
        std::error_code error;
        if (std::filesystem::is_directory(folder, error)) return folder;
    }
    return {};
}

std::string last_line_of_zone_file(std::string_view bytes) {
    // From version 2 on the file ends with the line, between two newlines.
    if (bytes.size() < 6 || bytes.substr(0, 4) != "TZif" || bytes[4] < '2') return {};
    if (bytes.back() != '\n') return {};
    const std::string_view body = bytes.substr(0, bytes.size() - 1);
    const std::size_t start = body.rfind('\n');
    if (start == std::string_view::npos) return {};
    return std::string{body.substr(start + 1)};
}

std::string last_rule_of_zone(const std::string& name) {
    const std::string folder = zone_folder();
    if (folder.empty()) return {};
    std::ifstream in{folder + '/' + name, std::ios::binary};
    if (!in) return {};
    const std::string bytes{std::istreambuf_iterator<char>{in}, {}};
    return last_line_of_zone_file(bytes);
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
std::unordered_map<std::string, ZonePlace> places_of_tables() {
    std::unordered_map<std::string, ZonePlace> places;
    const std::string folder = zone_folder();
    if (folder.empty()) return places;
    for (const char* table : kTables) {
        std::ifstream in{folder + '/' + table};
        for (std::string line; std::getline(in, line);) {
            if (line.empty() || line[0] == '#') continue;
            std::istringstream fields{line};
            std::string countries, place, zone;
            if (!std::getline(fields, countries, '\t') || !std::getline(fields, place, '\t') ||
                !std::getline(fields, zone, '\t'))
                continue;
            if (const auto at = read_iso6709(place)) places.emplace(zone, *at);
        }
    }
    return places;
}

}  // namespace

std::optional<ZonePlace> place_of_zone(const std::string& name) {
    static const auto places = places_of_tables();  // read once a run
    const auto at = places.find(name);
    return at == places.end() ? std::nullopt : std::optional{at->second};
}

}  // namespace keyhour::site
