#pragma once
/// @file
/// The light that a room gives back: the fill that nobody set up.

#include <span>

#include "keyhour/sun/angle.hpp"

namespace keyhour::light {

/// One inner surface.
struct ReflectingArea {
    double area_m2;      ///< >= 0
    double reflectance;  ///< 0..1: floor 0.2, walls 0.5, ceiling 0.7 (ranges of CIBSE and EN
                         ///< 12464-1, from memory); whitewash 0.8, black cloth 0.03
};

/// Mean over areas; 0 where there is none.
[[nodiscard]] double mean_reflectance(std::span<const ReflectingArea> surfaces) noexcept;

/// A room, as far as a mean over it can know it.
struct RoomReflectances {
    double area_m2;  ///< of all inner surfaces, windows included, > 0
    double mean;     ///< over all of them, windows as they reflect (glass 0.1, an opening 0)
    double lower;    ///< floor and walls below the window's mid height, its own wall left out
    double upper;    ///< ceiling and walls above it, its own wall left out
};

/// Means above this are brought to it: a room of perfect mirrors would brighten without end.
inline constexpr double highest_mean_reflectance = 0.95;

/// Light from sky and ground through one window, after the room has passed it round: the mean over
/// all surfaces, lx. Good to a factor 2 (this project's estimate): more near the window.
/// @param transmittance  of the glass, for diffuse light
/// @param window_m2      net area of the glass
/// @param sky_lx         on the window from above the horizon, @param ground_lx from below
/// Source: split flux, Hopkinson, Longmore & Petherbridge, Trans. Illum. Eng. Soc. 19 (1954) 201,
/// in lx instead of daylight factor.
[[nodiscard]] double split_flux_lx(double transmittance, double window_m2, double sky_lx,
                                   double ground_lx, const RoomReflectances& room) noexcept;

/// Light that lands somewhere in the room, passed round: the mean over all surfaces, lx.
/// @param landing_lm   flux before its first reflection
/// @param reflectance  where it lands, 0..1
/// Never more than came in: area x mean absorbed = landing x reflectance. Source: the integrating
/// sphere (Sumpner 1892).
[[nodiscard]] double sphere_lx(double landing_lm, double reflectance,
                               const RoomReflectances& room) noexcept;

/// The handbooks' internally reflected component, percent of the level outside under an overcast
/// sky, with buildings opposite up to an angle above the horizon.
/// Source: split flux as above; its coefficient 39 at 0 to 5 at 80 degrees (from memory), straight
/// between tens.
[[nodiscard]] double reflected_component_percent(double transmittance, double window_m2,
                                                 Angle obstruction,
                                                 const RoomReflectances& room) noexcept;

/// A whole room's mean daylight factor, percent of the level outside under an overcast sky: a
/// check, not an answer.
/// @param visible_sky  vertical angle of sky seen from the window's middle, 0..90 degrees
/// Source: Lynes 1979; Crisp & Littlefair 1984.
[[nodiscard]] double mean_daylight_factor_percent(double transmittance, double window_m2,
                                                  Angle visible_sky,
                                                  const RoomReflectances& room) noexcept;

}  // namespace keyhour::light
