#pragma once
/// @file
/// All that is told about the light of a clean key: how it moves, what cloud or a cover would make
/// of it, how the patch stands out, and from where the beam shows in haze.

#include <optional>
#include <vector>

#include "keyhour/study/beam_in_haze.hpp"
#include "keyhour/study/clean_key.hpp"
#include "keyhour/study/light_drift.hpp"
#include "keyhour/study/patch_contrast.hpp"

namespace keyhour::study {

/// The light of one hold, from its start to its end.
struct KeyLight {
    LightDrift clear;                      ///< the room as it stands, clear sky
    LightDrift mean_cloud, overcast;       ///< see RoomLight::in_cases
    LightDrift with_sheer, with_blackout;  ///< in the key window, clear sky
    /// The patch on the surface behind the mark, at start and end.
    std::optional<PatchContrast> patch_at_start, patch_at_end;
    std::vector<BeamInHaze> beams;  ///< of the key window, every camera, in the middle of the hold
};

/// @pre interval.span holds; `light` is that of `study`
[[nodiscard]] KeyLight key_light(const RoomStudy& study, const RoomLight& light,
                                 const KeyInterval& interval);

}  // namespace keyhour::study
