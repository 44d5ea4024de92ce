#pragma once
/// @file
/// Light under cloud.

#include "keyhour/light/clear_sky.hpp"

namespace keyhour::light {

enum class Cloud {
    none,
    mean,     ///< half of the sky covered; the sun out half of the time
    overcast  ///< covered through and through, no trace of the sun
};

/// Illuminance of a level plane under an overcast sky, lx. A mean: real overcast lies a stop and
/// more to either side.
/// @param true_altitude  of the sun; below the horizon the twilight curve in the same proportion
///                       as at the horizon (this project's choice)
/// Source: Krochmann & Seidl, Lighting Research & Technology 6 (1974) 165: 300 + 21 000 sin h.
[[nodiscard]] double overcast_horizontal_lx(Altitude true_altitude) noexcept;

/// Colour of overcast light, an order. Source: Chain, Dumortier & Fontoynont 1999.
inline constexpr double overcast_kelvin = 6500;

/// Levels under a sky with so much cloud. `none` is clear_sky.
/// Mean cloud is an average over time, not a moment: a level of 0.929 of the clear sky's (Kasten &
/// Czeplak, Solar Energy 24 (1980) 177: 1 - 0.75 N^3.4, N the share of the sky covered; half of it;
/// from memory), of which the sun, out half of the time, makes half of its clear beam. A
/// moment has the whole beam or none. The sky's colour lies between the clear sky's and the
/// clouds', halfway in mired. That a half stands for the mean is this project's choice.
[[nodiscard]] SkyLevels cloudy_sky(const SkyState& state, Air air, Cloud cloud) noexcept;

/// The same from levels of the clear sky that are already known (of the same state).
[[nodiscard]] SkyLevels under_cloud(const SkyLevels& clear, const SkyState& state,
                                    Cloud cloud) noexcept;

/// Low, likely and high under cloud. Overcast: a stop to either side. Mean: from the overcast level
/// to that of the clear sky's upper end, the beam from nothing.
[[nodiscard]] SkyBand cloud_band(const SkyBand& clear, const SkyState& state, Cloud cloud) noexcept;

}  // namespace keyhour::light
