#pragma once
/// @file
/// What a location file tells of its light beside windows and lamps, ready for an answer.

#include <optional>
#include <string>

#include "keyhour/study/found_light.hpp"
#include "shown_names.hpp"

namespace keyhour::cli {

/// Nothing where the file has no forge and no meter reading, or where there is no file.
/// @param location  of that file, with a room
[[nodiscard]] std::optional<study::FoundInRoom> found_in(const std::string& path, Names names,
                                                         const site::Location& location);

}  // namespace keyhour::cli
