#include "tell/version_page.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "keyhour/site/dates.hpp"
#include "keyhour/site/magnetic.hpp"
#include "keyhour/sun/time_scales.hpp"
#include "keyhour/version.hpp"
#include "words/shown.hpp"

namespace keyhour::tell {
namespace {

constexpr const char* kMagneticModel = "WMM2025";

int last_tai_minus_utc_s() {
    return static_cast<int>(sun::leap_second_steps.back().tai_minus_utc_s);
}

std::string zones_in_words(const site::ReferenceData& data) {
    if (data.zone_folder.empty() && data.zone_version.empty()) return "none on this machine";
    if (data.zone_folder.empty()) return words::shown(data.zone_version) + ", in the program";
    return fmt::format(
        "{}, read from {}",
        data.zone_version.empty() ? "of a version not told there" : words::shown(data.zone_version),
        words::shown(data.zone_folder));
}

std::string leap_seconds_in_words(const site::ReferenceData& data) {
    std::string text =
        fmt::format("the last from {} on, TAI - UTC {} s",
                    site::iso_date(site::last_leap_second_known()), last_tai_minus_utc_s());
    if (data.leap_seconds && data.leap_seconds->expires)
        text += "; this machine's list holds to " + site::iso_date(*data.leap_seconds->expires);
    return text;
}

std::string in_words(site::Outdated what, const site::ReferenceData& data) {
    switch (what) {
        case site::Outdated::magnetic_model:
            return fmt::format(
                "the magnetic model ended with {:.0f}: take a newer keyhour, or give "
                "bearings from true north",
                site::magnetic_last_year - 1);
        case site::Outdated::no_zones:
            return "without zone files no zone is known by name: install tzdata, or give a POSIX "
                   "TZ "
                   "string as time_zone";
        case site::Outdated::zones:
            return fmt::format("the time zones {} are more than a year old: {}",
                               words::shown(data.zone_version),
                               data.zone_folder.empty() ? "take a newer keyhour" : "update tzdata");
        case site::Outdated::leap_seconds:
            return fmt::format(
                "this machine knows a leap second of {} that keyhour does not: take "
                "a newer keyhour; until then the sun is placed a second off",
                site::iso_date(data.leap_seconds->last_from));
    }
    return {};
}

const char* name_of(site::Outdated what) {
    switch (what) {
        case site::Outdated::magnetic_model:
            return "magnetic_model";
        case site::Outdated::no_zones:
        case site::Outdated::zones:
            return "time_zones";
        case site::Outdated::leap_seconds:
            return "leap_seconds";
    }
    return "";
}

Json date_or_null(const std::optional<site::LocalDate>& date) {
    return date ? Json(site::iso_date(*date)) : Json(nullptr);
}

Json text_or_null(const std::string& text) {
    return text.empty() ? Json(nullptr) : Json(text);
}

Json leap_seconds_json(const site::ReferenceData& data) {
    Json j{{"last_from", site::iso_date(site::last_leap_second_known())},
           {"tai_minus_utc_s", last_tai_minus_utc_s()},
           {"machine_list", nullptr}};
    if (data.leap_seconds)
        j["machine_list"] = {{"last_from", site::iso_date(data.leap_seconds->last_from)},
                             {"issued", date_or_null(data.leap_seconds->issued)},
                             {"expires", date_or_null(data.leap_seconds->expires)}};
    return j;
}

}  // namespace

Paragraphs version_page(const VersionFacts& facts) {
    constexpr std::size_t after = 16;
    const BuildFacts& b = facts.build;
    Paragraphs page;
    for (const site::Outdated what : site::outdated(facts.data, facts.today))
        page.push_back({"OUT OF DATE: " + in_words(what, facts.data), 0, 2});
    page.push_back({fmt::format("keyhour {}", version())});
    page.push_back({fmt::format("build           {}, {}, {}{}", b.compiler, b.type, b.system,
                                b.reads_any_geotiff ? ", with GDAL" : ""),
                    0, after});
    page.push_back(
        {fmt::format("magnetic model  {}, for {:.0f} to {:.0f}, in the program", kMagneticModel,
                     site::magnetic_first_year, site::magnetic_last_year - 1),
         0, after});
    page.push_back({"time zones      " + zones_in_words(facts.data), 0, after});
    page.push_back({"leap seconds    " + leap_seconds_in_words(facts.data), 0, after});
    return page;
}

Json version_document(const VersionFacts& facts) {
    Json j;
    j["keyhour"] = version();
    j["build"] = {{"compiler", facts.build.compiler},
                  {"type", facts.build.type},
                  {"system", facts.build.system},
                  {"gdal", facts.build.reads_any_geotiff}};
    j["magnetic_model"] = {{"name", kMagneticModel},
                           {"first_year", static_cast<int>(site::magnetic_first_year)},
                           {"last_year", static_cast<int>(site::magnetic_last_year) - 1}};
    j["time_zones"] = {{"version", text_or_null(facts.data.zone_version)},
                       {"folder", text_or_null(facts.data.zone_folder)}};
    j["leap_seconds"] = leap_seconds_json(facts.data);
    j["date"] = site::iso_date(facts.today);
    j["out_of_date"] = Json::array();
    for (const site::Outdated what : site::outdated(facts.data, facts.today))
        j["out_of_date"].push_back({{"what", name_of(what)}, {"why", in_words(what, facts.data)}});
    return j;
}

}  // namespace keyhour::tell
