#include "zone_files.hpp"

#include <array>
#include <cstdint>
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

namespace {

/// One of the blocks of a TZif file: a header of 44 bytes and the data that its counts announce.
class ZoneBlock {
public:
    static constexpr std::size_t header_size = 44;

    /// @param time_size  bytes of a transition time: 4 in the first block, 8 in the second
    ZoneBlock(std::string_view bytes, std::size_t time_size)
        : bytes_{bytes}, time_size_{time_size} {
        if (bytes_.size() < header_size) return;
        for (std::size_t i = 0; i < counts_.size(); ++i)
            counts_[i] = big_endian(20 + 4 * i, 4);
    }

    [[nodiscard]] std::optional<std::string> fault() const {
        if (bytes_.substr(0, 4) != "TZif") return "does not begin with \"TZif\"";
        if (bytes_.size() < header_size) return "is cut short in its header";
        if (bytes_[4] != '\0' && (bytes_[4] < '2' || bytes_[4] > '4'))
            return "is of a version that is not known";
        const auto [utc, standard, leap, times, types, letters] = counts_;
        if (types == 0 || types > 256 || letters == 0) return "has no local time type";
        if ((utc != 0 && utc != types) || (standard != 0 && standard != types))
            return "has indicators for other than its local time types";
        if (size() > bytes_.size()) return "is shorter than its header says";
        for (std::uint64_t i = 0; i < times; ++i)
            if (byte(times_end() + i) >= types) return "names a local time type that is not there";
        return fault_of_types(types, letters);
    }

    /// Header and data. Counts are of 32 bits: the sum stays within 64.
    [[nodiscard]] std::uint64_t size() const {
        const auto [utc, standard, leap, times, types, letters] = counts_;
        return header_size + times * (time_size_ + 1) + types * 6 + letters +
               leap * (time_size_ + 4) + standard + utc;
    }

private:
    [[nodiscard]] std::uint64_t byte(std::uint64_t at) const {
        return static_cast<unsigned char>(bytes_[static_cast<std::size_t>(at)]);
    }
    [[nodiscard]] std::uint64_t big_endian(std::uint64_t at, std::size_t n) const {
        std::uint64_t value = 0;
        for (std::size_t i = 0; i < n; ++i)
            value = value << 8U | byte(at + i);
        return value;
    }
    [[nodiscard]] std::uint64_t times_end() const { return header_size + counts_[3] * time_size_; }

    [[nodiscard]] std::optional<std::string> fault_of_types(std::uint64_t types,
                                                            std::uint64_t letters) const {
        constexpr std::int32_t most_s = 26 * 3600;  // RFC 8536, section 3.2: -25 to 26 hours
        const std::uint64_t begin = times_end() + counts_[3], names = begin + types * 6;
        for (std::uint64_t i = 0; i < types; ++i) {
            const auto east_s = static_cast<std::int32_t>(big_endian(begin + 6 * i, 4));
            if (east_s > most_s || east_s < -most_s) return "has an offset of more than a day";
            const std::uint64_t name = byte(begin + 6 * i + 5);
            if (byte(begin + 6 * i + 4) > 1 || name >= letters)
                return "has a damaged local time type";
        }
        if (byte(names + letters - 1) != 0) return "has an abbreviation without an end";
        return std::nullopt;
    }

    std::string_view bytes_;
    std::size_t time_size_;
    std::array<std::uint64_t, 6> counts_{};  // utc, standard, leap, times, types, letters
};

}  // namespace

std::optional<std::string> fault_of_zone_file(std::string_view bytes) {
    const ZoneBlock first{bytes, 4};
    if (auto fault = first.fault()) return fault;
    if (bytes[4] == '\0') return std::nullopt;
    const std::string_view rest = bytes.substr(static_cast<std::size_t>(first.size()));
    const ZoneBlock second{rest, 8};
    if (auto fault = second.fault()) return fault;
    const std::string_view rule = rest.substr(static_cast<std::size_t>(second.size()));
    if (rule.size() < 2 || rule.front() != '\n' || rule.find('\n', 1) == std::string_view::npos)
        return "has no rule at its end";
    return std::nullopt;
}

std::optional<std::string> zone_file(const std::string& name) {
    const std::string folder = zone_folder();
    if (folder.empty()) return std::nullopt;
    const std::string path = folder + '/' + name;
    std::error_code error;
    if (!std::filesystem::is_regular_file(path, error)) return std::nullopt;
    std::ifstream in{path, std::ios::binary};
    if (!in) return std::nullopt;
    return std::string{std::istreambuf_iterator<char>{in}, {}};
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

const ZonePlaces& zone_places() {
    static const auto places = places_of_tables();  // read once a run
    return places;
}

}  // namespace keyhour::site
