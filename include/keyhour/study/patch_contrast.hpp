#pragma once
/// @file
/// How far a sun patch stands out from the walls that the sun does not reach.

#include <optional>

#include "keyhour/room/scene.hpp"

namespace keyhour::study {

/// A patch beside an unlit wall. Surfaces are taken as matt (Lambert).
struct PatchContrast {
    room::Surface surface;        ///< on which the patch lies
    double patch_lx = 0;          ///< sun and what the room gives back, mean over the patch
    double patch_cd_m2 = 0;       ///< with the reflectance of its surface
    double unlit_wall_cd_m2 = 0;  ///< a wall that has only what the room gives back; > 0
    [[nodiscard]] double ratio() const { return patch_cd_m2 / unlit_wall_cd_m2; }
    [[nodiscard]] double stops() const;  ///< log2 of the ratio
};

/// Mean cosine between the sun and the patch's surface, 0..1; an object's sides weigh by their lit
/// area. @param sun  unit vector from the room to the sun
[[nodiscard]] double mean_incidence_cosine(const room::Patch& patch, room::Point3 sun) noexcept;

/// The window's own light of sky and ground is left out on both sides.
/// @param beam_lx  direct sun in the room, square to its beam (WindowLight::beam_lx)
/// @param fill_lx  what the room gives back (MarkLight::given_back_lx)
/// @return         nothing where the wall would be black
[[nodiscard]] std::optional<PatchContrast> patch_contrast(const room::Room& room,
                                                          const room::Patch& patch, double beam_lx,
                                                          double fill_lx, room::Point3 sun);

}  // namespace keyhour::study
