#pragma once
/// @file
/// How far the air lifts the sun.

#include <numbers>

#include "keyhour/sun/angle.hpp"
#include "keyhour/sun/observer.hpp"

namespace keyhour::sun {

/// How far the air lifts a body: apparent altitude = true altitude + refraction.
/// @param true_altitude  airless, -90..90 degrees; below -1.9 degrees, where the formula turns
///                       round, the value there (0.74 degree) is returned
/// @param weather        0..1100 hPa, -60..60 degrees C; no air, no refraction
/// @return               0.48 degree at the horizon, zero at the zenith; never negative
/// Apparent altitude rises with true altitude everywhere. Error: within 0.07 arcmin of Bennett's
/// values above the horizon; real air near the horizon strays by some arcminutes from day to day.
/// Source: Saemundsson (1986), Sky & Telescope 72, 70; Meeus, Astronomical Algorithms, ch. 16.
[[nodiscard]] Angle refraction(Altitude true_altitude, const Weather& weather = {}) noexcept;

/// Density of the air against that of the formula's (1010 hPa, 10 degrees C).
/// Source: Meeus, Astronomical Algorithms, ch. 16.
[[nodiscard]] inline double refraction_factor(const Weather& weather) noexcept {
    return weather.pressure_hpa / 1010 * (283 / (273 + weather.temperature_c));
}

/// Refraction in radians at the true altitude h: h in radians, with its sine and cosine, or both
/// multiplied by the same length. A Number is a double or a Pair.
template <class Number>
[[nodiscard]] inline Number saemundsson(Number h, Number sine, Number cosine,
                                        double factor) noexcept {
    // R = 1.02' cot(h + b), b = 10.3 / (h + 5.11), h and b in degrees. Below h = -1.90064, where
    // (h + 5.11)^2 = 10.3, R would fall again: it keeps the value there, at h + b = 1.30872.
    constexpr double degree = std::numbers::pi / 180;
    constexpr double arcminute = degree / 60;
    constexpr double cot_at_turning_point = 43.7723121;
    const Number zero{};
    const auto below = h < -1.90064 * degree;
    const Number b =
        (10.3 * degree * degree) / ((below ? zero : h) + 5.11 * degree);  // 0.002..0.057 rad
    const Number b2 = b * b;
    const Number sin_b = b * (1 - b2 * (1.0 / 6));  // R comes out within 1e-7 of itself
    const Number cos_b = 1 - b2 * (0.5 - b2 * (1.0 / 24));
    const Number cot = (cosine * cos_b - sine * sin_b) / (sine * cos_b + cosine * sin_b);
    // Just before the zenith the formula falls below zero, to -0.002'.
    return (factor * 1.02 * arcminute) *
           (below ? zero + cot_at_turning_point : (cot > zero ? cot : zero));
}

}  // namespace keyhour::sun
