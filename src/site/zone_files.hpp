#pragma once
// The system's zone files: which there are, their bytes, and where each zone lies.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "zone_source.hpp"

namespace keyhour::site {

/// Their folder, or empty if there is none, or nothing in it.
[[nodiscard]] std::string zone_folder();

/// Of all zones, ascending: the files below the folder that may be one.
[[nodiscard]] std::vector<std::string> zone_names();

/// True where there is a file of that name.
[[nodiscard]] bool has_zone_file(const std::string& name);

/// The bytes of a zone's file; nothing if it cannot be read.
[[nodiscard]] std::optional<std::string> zone_file(const std::string& name);

/// Where zones lie, from the tables in ISO 6709 (zone1970.tab, zone.tab); empty where there are
/// none.
[[nodiscard]] const ZonePlaces& zone_places();

/// "+513030-0000731" or "+5130-00007"; nothing if it is neither.
[[nodiscard]] std::optional<ZonePlace> read_iso6709(std::string_view text);

}  // namespace keyhour::site
