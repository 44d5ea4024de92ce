#pragma once
/// @file
/// The sun's day as JSON: an object to stand in a document. Schema: tests/schema/day.schema.json.

#include <vector>

#include "document.hpp"
#include "keyhour/ask/day.hpp"

namespace keyhour::tell {

[[nodiscard]] Json json_of(const study::Day& day, const site::Zone& zone,
                           const study::LateLightBand& band);

/// The same with the light outside, if the request asks for it, as the member `light`.
[[nodiscard]] Json json_of(const ask::DayAnswer& answer, const ask::DayRequest& request,
                           const site::Zone& zone);

}  // namespace keyhour::tell
