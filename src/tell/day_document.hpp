#pragma once
/// @file
/// The sun's day as JSON: an object to stand in a document. Schema: tests/schema/day.schema.json.

#include <vector>

#include "document.hpp"
#include "keyhour/study/day.hpp"
#include "keyhour/study/day_light.hpp"

namespace keyhour::tell {

[[nodiscard]] Json json_of(const study::Day& day, const site::Zone& zone,
                           const study::LateLightBand& band);

/// The light outside through the day: an array, for the day's member `light`.
[[nodiscard]] Json json_of(const std::vector<study::DayLight>& light, const site::Zone& zone);

}  // namespace keyhour::tell
