#pragma once
/// @file
/// A table of zones as a page carries it, and understands it again.

#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "document.hpp"
#include "site/zone_table.hpp"

namespace keyhour::tell {

/// {"Europe/London": "GMT0BST,M3.5.0/1,M10.5.0"}; where there is more to say than the rule,
/// {"rule": ..., "changes": [[at, seconds east, summer time, abbreviation], ...], "place":
/// [latitude, longitude]}.
[[nodiscard]] Json json_of(const std::vector<site::ZoneRow>& table);

/// @return or what is wrong, with the zone's name
[[nodiscard]] tl::expected<std::vector<site::ZoneRow>, std::string> zone_table_in(const Json& json);

}  // namespace keyhour::tell
