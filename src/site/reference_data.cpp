#include "reference_data.hpp"

#include <algorithm>
#include <charconv>
#include <chrono>
#include <cstdint>
#include <fstream>
#include <iterator>

#include "keyhour/site/magnetic.hpp"
#include "keyhour/sun/time_scales.hpp"
#include "zone_archive.hpp"

namespace keyhour::site {
namespace {

constexpr std::int64_t seconds_1900_to_1970 = 2208988800;

LocalDate date_of_unix(std::int64_t unix_s) {
    return LocalDate{date::floor<date::days>(date::sys_seconds{std::chrono::seconds{unix_s}})};
}

/// The whole number that the text begins with, after blanks; what follows it stays in `text`.
std::optional<std::int64_t> take_number(std::string_view& text) {
    text.remove_prefix(std::min(text.find_first_not_of(" \t"), text.size()));
    std::int64_t value = 0;
    const auto end = std::from_chars(text.data(), text.data() + text.size(), value);
    if (end.ec != std::errc{}) return std::nullopt;
    text.remove_prefix(static_cast<std::size_t>(end.ptr - text.data()));
    return value;
}

std::optional<LocalDate> take_date(std::string_view text) {
    const auto since_1900_s = take_number(text);
    if (!since_1900_s) return std::nullopt;
    return date_of_unix(*since_1900_s - seconds_1900_to_1970);
}

/// What a small file holds; of a larger one its beginning.
std::string beginning_of(const std::string& path) {
    constexpr std::size_t most = 65536;
    std::ifstream in{path, std::ios::binary};
    std::string text(most, '\0');
    in.read(text.data(), most);
    text.resize(static_cast<std::size_t>(in.gcount()));
    return text;
}

/// The day after which the zone data cannot have come out: the end of its version's year, or, where
/// its list of leap seconds is older, the day by which the next list is out.
std::optional<date::sys_days> newest_possible(const ReferenceData& data) {
    std::string_view version = data.zone_version;
    const auto year = take_number(version);
    if (!year) return std::nullopt;
    date::sys_days newest = date::year{static_cast<int>(*year)} / date::December / 31;
    constexpr date::days between_lists{200};  // half a year, and some days for the post
    if (data.leap_seconds && data.leap_seconds->issued)
        newest = std::min(newest, date::sys_days{*data.leap_seconds->issued} + between_lists);
    return newest;
}

}  // namespace

std::optional<LeapSecondList> read_leap_second_list(std::string_view text) {
    LeapSecondList list;
    bool has_row = false;
    while (!text.empty()) {
        std::string_view line = text.substr(0, text.find('\n'));
        text.remove_prefix(std::min(line.size() + 1, text.size()));
        if (line.starts_with("#$")) list.issued = take_date(line.substr(2));
        if (line.starts_with("#@")) list.expires = take_date(line.substr(2));
        if (line.starts_with('#')) continue;
        const auto from = take_number(line);
        const auto offset = take_number(line);
        if (!from || !offset) continue;
        has_row = true;
        list.last_from = date_of_unix(*from - seconds_1900_to_1970);
        list.tai_minus_utc_s = static_cast<int>(*offset);
    }
    return has_row ? std::optional{list} : std::nullopt;
}

std::string version_of_zone_data(std::string_view text) {
    constexpr std::string_view before = "# version ";
    if (!text.starts_with(before)) return {};
    text.remove_prefix(before.size());
    const std::size_t end = text.find_first_not_of("0123456789abcdefghijklmnopqrstuvwxyz.-");
    return std::string{text.substr(0, end)};
}

ReferenceData reference_data(const std::string& zone_folder) {
    ReferenceData data;
    data.zone_folder = zone_folder;
    if (zone_folder.empty()) {
        data.zone_version = carried_zones().version();
        return data;
    }
    data.zone_version = version_of_zone_data(beginning_of(zone_folder + "/tzdata.zi"));
    data.leap_seconds = read_leap_second_list(beginning_of(zone_folder + "/leap-seconds.list"));
    return data;
}

LocalDate last_leap_second_known() {
    return date_of_unix(static_cast<std::int64_t>(sun::leap_second_steps.back().from_unix_s));
}

std::vector<Outdated> outdated(const ReferenceData& data, LocalDate today) {
    std::vector<Outdated> out;
    if (static_cast<int>(today.year()) >= static_cast<int>(magnetic_last_year))
        out.push_back(Outdated::magnetic_model);
    if (data.zone_folder.empty() && data.zone_version.empty()) out.push_back(Outdated::no_zones);
    constexpr date::days a_year{366};
    if (const auto newest = newest_possible(data);
        newest && date::sys_days{today} > *newest + a_year)
        out.push_back(Outdated::zones);
    if (data.leap_seconds && data.leap_seconds->last_from > last_leap_second_known())
        out.push_back(Outdated::leap_seconds);
    return out;
}

}  // namespace keyhour::site
