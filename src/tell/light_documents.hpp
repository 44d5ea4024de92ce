#pragma once
/// @file
/// The light of a room as JSON: members of an interval of `key`, of an instant of `patch`.
/// Schemas: tests/schema/key.schema.json, patch.schema.json.

#include <nlohmann/json_fwd.hpp>
#include <vector>

#include "document.hpp"
#include "keyhour/study/key_light.hpp"
#include "keyhour/study/patch_light.hpp"
#include "keyhour/study/stop_wish.hpp"

namespace keyhour::tell {

/// Adds the light of a hold to its interval; without a light (a hold that is only possible) null in
/// each place.
void add_light(Json& interval, const study::KeyLight* light, const study::CameraSetting& camera,
               const room::Room& room);

/// The camera's setting and the wanted stop with the level that it asks for.
[[nodiscard]] Json json_of(const study::CameraSetting& camera);

/// {low, likely, high}
[[nodiscard]] Json json_of(const light::Band& band, int decimals);

/// The light at one mark at one instant, by window. @pre `at` is of this room
[[nodiscard]] Json json_of(const study::LitMark& at, const room::Room& room);

/// The beam of each window before each camera.
[[nodiscard]] Json json_of(const std::vector<study::BeamInHaze>& beams, const room::Room& room);

}  // namespace keyhour::tell
