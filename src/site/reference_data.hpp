#pragma once
// How old the data is that answers lean on: the machine's zone files, and its list of leap seconds.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "keyhour/site/zone.hpp"

namespace keyhour::site {

/// A list of leap seconds as the zone files bring it (leap-seconds.list, by IETF and IERS).
struct LeapSecondList {
    std::optional<LocalDate> issued;   ///< by IERS; a new one comes every half year
    std::optional<LocalDate> expires;  ///< no leap second is put in before
    LocalDate last_from{};             ///< the last step holds from this date
    int tai_minus_utc_s = 0;           ///< since then
};

/// The file's text: "#$" issue and "#@" expiry in seconds since 1900, then a row a step.
/// @return nothing if it has no row
[[nodiscard]] std::optional<LeapSecondList> read_leap_second_list(std::string_view text);

/// The version in the first line of a tzdata.zi, such as "2026f"; empty if there is none.
[[nodiscard]] std::string version_of_zone_data(std::string_view text);

struct ReferenceData {
    std::string zone_folder;  ///< empty: this machine has no zone files
    std::string
        zone_version;  ///< empty: not told there; without a folder that of the program's zones
    std::optional<LeapSecondList> leap_seconds;
};

/// What stands in the folder of zone files, zone_folder() usually; where that is empty, what the
/// program carries. Never fails: what cannot be read is not told.
[[nodiscard]] ReferenceData reference_data(const std::string& zone_folder);

/// What no longer serves, or is not there.
enum class Outdated {
    magnetic_model,  ///< the model's five years are over
    no_zones,
    zones,        ///< more than a year old, for certain
    leap_seconds  ///< the machine knows one that keyhour does not
};

/// @param today  UTC
[[nodiscard]] std::vector<Outdated> outdated(const ReferenceData& data, LocalDate today);

/// The last leap second that keyhour knows: the date from which its step holds.
[[nodiscard]] LocalDate last_leap_second_known();

}  // namespace keyhour::site
