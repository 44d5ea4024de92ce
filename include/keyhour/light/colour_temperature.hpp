#pragma once
/// @file
/// The colour of light that is nearly white, in kelvin and mired.

#include "keyhour/light/spectrum.hpp"

namespace keyhour::light {

/// CIE 1931 chromaticity.
struct Chromaticity {
    double x = 0, y = 0;
};

/// @param t  not all zero; black has the chromaticity 0, 0
[[nodiscard]] Chromaticity chromaticity(const Tristimulus& t) noexcept;

inline constexpr double lowest_kelvin = 1000, highest_kelvin = 15000;

/// Correlated colour temperature: that of the nearest black body.
struct ColourTemperature {
    /// 1000..15 000 K. At either end the true value may lie beyond: print "below 1000 K", "above
    /// 15 000 K".
    double kelvin = 0;
    /// Distance from the black bodies' curve in CIE 1960 u, v; positive is greenish, negative
    /// pinkish. Beyond 0.05 the word colour temperature means nothing (CIE 15).
    double duv = 0;

    [[nodiscard]] constexpr bool below_range() const { return kelvin <= lowest_kelvin; }
    [[nodiscard]] constexpr bool above_range() const { return kelvin >= highest_kelvin; }
    [[nodiscard]] constexpr double mired() const { return 1e6 / kelvin; }
};

/// Error: the curve lies within 1e-4 in u and v of the black bodies': some 10 K at 5000 K, 60 K at
/// 12 000 K. No error: every chromaticity has an answer; at an end of the range see `kelvin`.
/// Source: CIE 15 for the definition; the curve by Krystek, Color Research & Application 10 (1985)
/// 38, 1000 to 15 000 K.
[[nodiscard]] ColourTemperature colour_temperature(Chromaticity c) noexcept;

/// One lx of a black body's light. @param kelvin  brought to 1000..15 000 K. Source: Krystek's
/// curve as above.
[[nodiscard]] Tristimulus black_body_colour(double kelvin) noexcept;

/// How far a filter must shift one light to match the other, in mired: positive is warmer.
/// Both in kelvin, above 0. Steps below 10 mired are not seen (common practice, no source).
[[nodiscard]] constexpr double mired_shift(double from_kelvin, double to_kelvin) noexcept {
    return 1e6 / to_kelvin - 1e6 / from_kelvin;
}

}  // namespace keyhour::light
