#pragma once
/// @file
/// A beam that shows in haze: from which side it shows best.

#include "keyhour/sun/angle.hpp"

namespace keyhour::light {

/// How far droplets of fog and smoke throw light forward: 0.7 to 0.85 (this project's order of
/// magnitude for sizes near 1 um).
inline constexpr double usual_asymmetry = 0.8;

/// Share of scattered light a steradian of one direction gets, 1/sr.
/// @param scattering  angle by which the light turns: 0 straight on, that is, toward the lens
/// @param asymmetry   -1 < g < 1; 0 scatters alike to all sides
/// Over all directions it adds up to 1. Source: Henyey & Greenstein, Astrophys. J. 93 (1941) 70.
[[nodiscard]] double phase_function(Angle scattering, double asymmetry = usual_asymmetry) noexcept;

/// The angle by which light must turn to reach the lens.
/// @param at_beam  between lens and light as seen from the beam: 180 degrees, the lens looks into
///                 the light
[[nodiscard]] constexpr Angle scattering_angle(Angle at_beam) noexcept {
    return Angle::degrees(180) - at_beam;
}

/// How many stops brighter a thin beam of the same haze shows under the first scattering angle than
/// under the second. Crews do not know the haze's density: this needs none.
[[nodiscard]] double haze_stops(Angle scattering, Angle than,
                                double asymmetry = usual_asymmetry) noexcept;

/// Luminance of a beam seen from the side, cd/m2, scattered once.
/// @param beam_lx         square to the beam
/// @param scattering_per_m  share of the light that a metre scatters; times path below 0.1, else
///                          light scattered twice and more counts
/// @param path_m          how far the line of sight runs within the beam
/// @param albedo          share of what the droplets take out that they scatter, 0..1
[[nodiscard]] double beam_luminance_cd_m2(double beam_lx, double scattering_per_m, double path_m,
                                          Angle scattering, double asymmetry = usual_asymmetry,
                                          double albedo = 1) noexcept;

/// How far a dark object shows against the horizon, m. Source: Koschmieder 1924, contrast 2 %.
[[nodiscard]] constexpr double visibility_m(double scattering_per_m) noexcept {
    return 3.912 / scattering_per_m;
}

}  // namespace keyhour::light
