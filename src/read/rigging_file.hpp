#pragma once
/// @file
/// The rigging that a location file holds: [rigging] and [[task]]. read_location checks the same
/// tables; no question about light needs them, so a location does not carry them.

#include "keyhour/site/rigging.hpp"
#include "location_file.hpp"

namespace keyhour::read {

/// @return the rigging, empty where the file has none; or every problem of the whole file
[[nodiscard]] Read<site::Rigging> read_rigging(const std::string& path,
                                               const Changes& changes = {});

[[nodiscard]] Read<site::Rigging> read_rigging_text(std::string_view text, const std::string& name,
                                                    const Changes& changes = {});

/// The same of a location in a line of JSON; see read_location_json.
[[nodiscard]] Read<site::Rigging> read_rigging_json(std::string_view line, const std::string& name,
                                                    const Changes& changes = {});

}  // namespace keyhour::read
