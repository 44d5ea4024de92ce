#pragma once
/// @file
/// Saemundsson's formula on bare numbers, for inner loops.

#include "keyhour/sun/observer.hpp"
#include "keyhour/sun/trigonometry.hpp"

namespace keyhour::sun {

/// Density of the air against that of the formula's (1010 hPa, 10 degrees C).
/// Source: Meeus, Astronomical Algorithms, ch. 16.
[[nodiscard]] inline double refraction_factor(const Weather& weather) noexcept {
    return weather.pressure_hpa / 1010 * (283 / (273 + weather.temperature_c));
}

/// Refraction in radians; true altitude in radians.
[[nodiscard]] inline double saemundsson(double true_altitude, double factor) noexcept {
    // h in degrees, R in arcminutes: R = 1.02 cot(h + 10.3 / (h + 5.11)).
    constexpr double degree = std::numbers::pi / 180;
    constexpr double turning_point = -1.90064;  // (h + 5.11)^2 = 10.3: R falls again below
    const double given = true_altitude / degree;
    const double h = given > turning_point ? given : turning_point;
    const auto [s, c] = sine_cosine_of_turns((h + 10.3 / (h + 5.11)) / 360);
    const double R = 1.02 * c / s;
    return R > 0 ? factor * R * (degree / 60) : 0;  // the formula gives -0.002 at the zenith
}

}  // namespace keyhour::sun
