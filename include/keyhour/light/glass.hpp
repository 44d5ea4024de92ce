#pragma once
/// @file
/// What a window's glass lets through.

#include "keyhour/sun/angle.hpp"

namespace keyhour::light {

/// How many clear panes stand in the window.
enum class Panes { none, one, two };

/// Share of the light that passes, 0..1.
/// @param incidence  between the ray and the normal of the pane, 0..90 degrees, either sign;
///                   beyond, nothing passes
/// @return           single: 0.900 square on, 0.823 at 60 degrees, 0 at 90; no glass: 1
/// Clean clear float glass of 4 mm, refractive index 1.526, unpolarised light. Coated panes pass
/// 0.05 to 0.15 less. No error: every angle has an answer.
/// Source: Duffie & Beckman, Solar Engineering of Thermal Processes, ch. 5 (Fresnel, Bouguer);
/// extinction times thickness 0.018 a pane (this project's choice: the catalogues' 0.90).
[[nodiscard]] double transmittance(Panes panes, Angle incidence) noexcept;

/// The same by the cosine of the incidence, as geometry gives it; 0 and below: nothing passes.
[[nodiscard]] double transmittance_at_cosine(Panes panes, double cos_incidence) noexcept;

/// For light from all of the sky: the value at 60 degrees (Duffie & Beckman, ch. 5).
[[nodiscard]] double diffuse_transmittance(Panes panes) noexcept;

/// What dirt leaves, to be multiplied on (common practice, no source).
inline constexpr double kept_clean = 0.9, neglected = 0.7;

}  // namespace keyhour::light
