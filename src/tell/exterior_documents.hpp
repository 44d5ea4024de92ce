#pragma once
/// @file
/// The answers about spots as JSON: one object per spot and local date, to stand in a document.
/// Schema: tests/schema/exterior.schema.json.

#include <nlohmann/json_fwd.hpp>
#include <vector>

#include "document.hpp"
#include "keyhour/ask/exterior.hpp"

namespace keyhour::tell {

/// Everything that could be set, as it was.
[[nodiscard]] Json json_of(const study::SpotSettings& settings);

/// One spot on one date. @param instants  rows of the day, may be empty
[[nodiscard]] Json json_of(const study::SpotDay& day,
                           const std::vector<study::SpotInstant>& instants,
                           const study::SpotLight& spot);

/// The same of a whole answer: with the ends of its direct light and the lamps of the street.
[[nodiscard]] Json json_of(const ask::SpotAnswer& answer);

/// Light thrown back into the room.
[[nodiscard]] Json json_of(const study::FacadeLight& light, const study::RoomStudy& study);

}  // namespace keyhour::tell
