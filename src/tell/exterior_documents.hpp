#pragma once
/// @file
/// The answers about spots as JSON: one object per spot and local date, to stand in a document.
/// Schema: tests/schema/exterior.schema.json.

#include <nlohmann/json_fwd.hpp>
#include <vector>

#include "document.hpp"
#include "keyhour/study/facade_light.hpp"
#include "keyhour/study/spot_doubt.hpp"
#include "keyhour/study/spot_lamps.hpp"
#include "keyhour/study/spot_light.hpp"

namespace keyhour::tell {

/// Everything that could be set, as it was.
[[nodiscard]] Json json_of(const study::SpotSettings& settings);

/// One spot on one date. @param instants  rows of the day, may be empty
[[nodiscard]] Json json_of(const study::SpotDay& day,
                           const std::vector<study::SpotInstant>& instants,
                           const study::SpotLight& spot);

/// Adds to a spot's direct light between which times its ends lie.
/// @param ends  one for each of its spans
void add_ends(Json& spot, const std::vector<study::SpotEnsemble::Ends>& ends);

/// Light thrown back into the room.
[[nodiscard]] Json json_of(const study::FacadeLight& light, const study::RoomStudy& study);

/// Street and yard lamps at a spot. @param sky_below  from when the clear sky gives less than they
[[nodiscard]] Json json_of(const std::vector<study::LampAtSpot>& lamps,
                           const std::optional<Instant>& sky_below, const site::Location& location);

}  // namespace keyhour::tell
