#pragma once
// The system's zone files, as far as date's tz library leaves something to be read there: the rule
// that holds after the last listed change, and where each zone lies.

#include <optional>
#include <string>
#include <string_view>

#include "zone_source.hpp"

namespace keyhour::site {

/// The folder that date's tz library reads, or empty if there is none.
[[nodiscard]] std::string zone_folder();

/// The last line of a TZif file (RFC 8536, section 3.3): a POSIX TZ string, or empty.
[[nodiscard]] std::string last_line_of_zone_file(std::string_view bytes);

/// What keeps these bytes from being a TZif file of version 1 to 4, such as "does not begin with
/// \"TZif\""; nothing if they are one. date's tz library asserts on what it does not expect.
/// Source: RFC 8536, section 3; the parts that it has in common with RFC 9636.
[[nodiscard]] std::optional<std::string> fault_of_zone_file(std::string_view bytes);

/// The bytes of a zone's file; nothing if it cannot be read.
[[nodiscard]] std::optional<std::string> zone_file(const std::string& name);

/// Where zones lie, from the tables in ISO 6709 (zone1970.tab, zone.tab); empty where there are
/// none.
[[nodiscard]] const ZonePlaces& zone_places();

/// "+513030-0000731" or "+5130-00007"; nothing if it is neither.
[[nodiscard]] std::optional<ZonePlace> read_iso6709(std::string_view text);

}  // namespace keyhour::site
