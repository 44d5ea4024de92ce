#pragma once
/// @file
/// A zone as people type it, at a place that is known.

#include <optional>
#include <string>
#include <tl/expected.hpp>

#include "keyhour/site/position.hpp"
#include "keyhour/site/zone.hpp"

namespace keyhour::site {

/// Of the zones whose clocks say this abbreviation in January or July 2026, the one whose principal
/// place (zone1970.tab) lies nearest. "AEST" near Ballarat: "Australia/Melbourne".
/// @param abbreviation  capital letters, three to five
/// @return nothing where no clock says it, or this machine has no zone files
[[nodiscard]] std::optional<std::string> zone_that_says(const std::string& abbreviation,
                                                        const Coordinates& place);

/// Zone::named, with a better word for an abbreviation: the zone that it stands for at the place.
/// @param place  nothing if it isn't known
[[nodiscard]] tl::expected<Zone, std::string> zone_at(const std::string& text,
                                                      const std::optional<Coordinates>& place);

}  // namespace keyhour::site
