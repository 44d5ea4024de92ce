#pragma once
/// @file
/// How bright the patches of one instant are, and what light the marks have.

#include <optional>
#include <vector>

#include "keyhour/study/beam_in_haze.hpp"
#include "keyhour/study/mark_light.hpp"
#include "keyhour/study/patch_contrast.hpp"
#include "keyhour/study/patch_day.hpp"

namespace keyhour::study {

/// A mark's light; its key is the window that gives it most.
struct LitMark {
    std::size_t key_window = 0;              ///< index into Room::windows
    MarkLight clear;                         ///< under a clear sky
    light::Band mean_cloud_lx, overcast_lx;  ///< through the key window; see RoomLight::in_cases
};

/// The light of one instant.
struct PatchLight {
    std::vector<LitMark> marks;                         ///< by mark
    std::vector<std::optional<PatchContrast>> patches;  ///< of PatchInstant::patches, in its order
    std::vector<BeamInHaze> beams;  ///< of the windows that let sun in, before every camera
};

/// @pre `light` is that of `study`
[[nodiscard]] PatchLight patch_light(const RoomStudy& study, const RoomLight& light,
                                     const PatchInstant& instant);

}  // namespace keyhour::study
