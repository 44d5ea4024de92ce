#pragma once
/// @file
/// Observations of a wall's bearing: TOML with a list of [[observation]], or one as a flag.

#include <optional>
#include <string>
#include <vector>

#include "keyhour/study/observation.hpp"
#include "location_file.hpp"

namespace keyhour::read {

struct ObservationFile {
    std::vector<study::Observation> observations;
    std::optional<double> clock_within_s;
    /// What the clock behind all times was found to be, seconds fast; 0: right. The times of the
    /// observations are as noted.
    std::optional<double> clock_fast_s;
    /// What looks wrong but may be right, and warnings, as questions to the crew.
    std::vector<std::string> questions;
};

/// Reads and checks a file of observations made at a location.
/// @pre location.room holds a room
[[nodiscard]] Read<ObservationFile> read_observations(const std::string& path,
                                                      const site::Location& location);

/// The same for a text in memory.
[[nodiscard]] Read<ObservationFile> read_observations_text(std::string_view text,
                                                           const std::string& name,
                                                           const site::Location& location);

/// One observation as NAME=VALUE pairs with the file's names; a value runs up to the next NAME=, so
/// blanks in names need no quotes: "window=press window corner=head left floor=1.5,0.98 ...".
/// @param kind  as in the file: "shadow"
/// @param flag  how problems call it: "--shadow"
[[nodiscard]] Read<ObservationFile> read_observation_flag(std::string_view text,
                                                          const std::string& kind,
                                                          const std::string& flag,
                                                          const site::Location& location);

/// "compass", "map", "graze", "shadow", "corner", "other wall".
[[nodiscard]] const std::vector<std::string>& observation_kinds();

}  // namespace keyhour::read
