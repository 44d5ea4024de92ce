#pragma once
/// @file
/// [[forge]] and [[meter]] of a location file.

#include <string>

#include "keyhour/site/found_light.hpp"
#include "location_file.hpp"

namespace keyhour::read {

/// The tables are checked whenever the location is read; this hands them out.
[[nodiscard]] Read<site::FoundLight> read_found_light(const std::string& path);
[[nodiscard]] Read<site::FoundLight> read_found_light_text(std::string_view text,
                                                           const std::string& name);

}  // namespace keyhour::read
