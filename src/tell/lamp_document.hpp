#pragma once
/// @file
/// The answer about a lamp as JSON. Schema: tests/schema/lamp.schema.json.

#include <nlohmann/json_fwd.hpp>

#include "document.hpp"
#include "keyhour/study/lamp_report.hpp"

namespace keyhour::tell {

/// All of it beside what start_document gives.
[[nodiscard]] Json json_of(const study::LampReport& report, const study::LampQuestion& question,
                           const study::RoomStudy& study);

}  // namespace keyhour::tell
