#pragma once
/// @file
/// The sun's day as JSON: an object to stand in a document. Schema: tests/schema/day.schema.json.

#include "keyhour/file/document.hpp"
#include "keyhour/study/day.hpp"

namespace keyhour::file {

[[nodiscard]] Json json_of(const study::Day& day, const site::Zone& zone,
                           const study::LateLightBand& band);

}  // namespace keyhour::file
