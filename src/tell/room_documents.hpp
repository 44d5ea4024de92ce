#pragma once
/// @file
/// The answers about a room as JSON: one object per local date, to stand in a document.
/// Schemas: tests/schema/patch.schema.json, key.schema.json, lock.schema.json.

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <vector>

#include "document.hpp"
#include "keyhour/ask/patch.hpp"
#include "keyhour/study/clean_key.hpp"
#include "keyhour/study/lock.hpp"
#include "keyhour/study/sun_free.hpp"
#include "keyhour/study/together.hpp"

namespace keyhour::tell {

/// One instant of `patch`; what was not asked is left out. @param study  of its date
[[nodiscard]] Json json_of(const ask::PatchAnswer& answer, const study::RoomStudy& study);

/// Its light is added by file/light_documents.hpp.
[[nodiscard]] Json json_of(const study::KeyInterval& interval, const study::RoomStudy& study);
[[nodiscard]] Json json_of(const study::Together& together, const study::RoomStudy& study);
[[nodiscard]] Json json_of(const study::NearestMiss& miss, const study::RoomStudy& study);
[[nodiscard]] Json json_of(const study::SunFreeSpan& span, const study::RoomStudy& study);

/// Covers with their cloth. @param overlap_m  on each side
[[nodiscard]] Json json_of(const std::vector<study::CoverToHang>& covers,
                           const study::RoomStudy& study, double overlap_m);

/// lock, leaks and covers.
/// @param overlap_m  of cloth, on each side
[[nodiscard]] Json json_of(const study::LockAnswer& answer, const study::RoomStudy& study,
                           double overlap_m);

}  // namespace keyhour::tell
