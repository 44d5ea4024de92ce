#pragma once
/// @file
/// Sine, cosine and arctangent from the four operations alone: the same digits on every processor,
/// and short enough to be inlined into the loop over a year of positions.

#include <cmath>
#include <cstdint>
#include <numbers>

namespace keyhour::sun {

struct SineCosine {
    double sine = 0, cosine = 1;
};

/// The integer nearest to u, ties to even. @pre |u| < 2^51
[[nodiscard]] inline double nearest_integer(double u) noexcept {
    constexpr double shift = 6755399441055744.0;  // 1.5 * 2^52: doubles beyond it are integers
    return (u + shift) - shift;
}

/// The fraction of a turn left of u whole turns and more, -0.5..0.5. @pre |u| < 2^51
[[nodiscard]] inline double fraction_of_turn(double u) noexcept {
    return u - nearest_integer(u);
}

/// Sine and cosine of an angle in turns (1 = 360 degrees); quarter turns are exact.
/// @pre |turns| < 2^31 / 4
/// @return each within 2e-16 for |turns| <= 1; beyond, the rounding of the argument dominates
[[nodiscard]] inline SineCosine sine_cosine_of_turns(double turns) noexcept {
    const double quarter = nearest_integer(4 * turns);
    const double x = (turns - 0.25 * quarter) * (2 * std::numbers::pi);  // |x| <= pi/4
    const double w = x * x;
    // Taylor's series; the first term left out is below 5e-17 (sine), 3e-18 (cosine).
    const double s =
        x +
        x * w *
            (-1.0 / 6 +
             w * (1.0 / 120 + w * (-1.0 / 5040 +
                                   w * (1.0 / 362880 + w * (-1.0 / 39916800 +
                                                            w * (1.0 / 6227020800.0 -
                                                                 w * (1.0 / 1307674368000.0)))))));
    const double c =
        1 - 0.5 * w +
        w * w *
            (1.0 / 24 +
             w * (-1.0 / 720 + w * (1.0 / 40320 + w * (-1.0 / 3628800 +
                                                       w * (1.0 / 479001600.0 +
                                                            w * (-1.0 / 87178291200.0 +
                                                                 w * (1.0 / 20922789888000.0)))))));
    const auto n = static_cast<std::int32_t>(quarter);
    const double sine = (n & 1) != 0 ? c : s;
    const double cosine = (n & 1) != 0 ? s : c;
    return {(n & 2) != 0 ? -sine : sine, ((n + 1) & 2) != 0 ? -cosine : cosine};
}

/// Sine and cosine of an angle in radians. @pre |radians| < 2^31
[[nodiscard]] inline SineCosine sine_cosine(double radians) noexcept {
    return sine_cosine_of_turns(radians * (0.5 / std::numbers::pi));
}

/// Cosine of an angle in turns, within 7e-12: for sums of small periodic terms.
/// @pre |turns| < 2^51
[[nodiscard]] inline double cosine_of_turns(double turns) noexcept {
    // cos(2 pi f) = sin(2 pi (1/4 - |f|)), which Taylor's series to x^15 gives within 7e-12.
    const double x =
        (0.25 - std::fabs(fraction_of_turn(turns))) * (2 * std::numbers::pi);  // |x| <= pi/2
    const double w = x * x;
    return x * (1 + w * (-1.0 / 6 +
                         w * (1.0 / 120 +
                              w * (-1.0 / 5040 +
                                   w * (1.0 / 362880 + w * (-1.0 / 39916800 +
                                                            w * (1.0 / 6227020800.0 -
                                                                 w * (1.0 / 1307674368000.0))))))));
}

/// Direction of the point (x, y), radians, -pi..pi, within 1e-15; zero for the origin.
[[nodiscard]] inline double arctangent(double y, double x) noexcept {
    const double ax = std::fabs(x), ay = std::fabs(y);
    const double large = ax > ay ? ax : ay;
    const double small = ax > ay ? ay : ax;
    // Turning by 45 degrees brings every slope in 0..1 below tan(22.5 degrees) = 0.4142.
    const bool turned = small > 0.41421356237309503 * large;
    const double over = turned ? small - large : small;
    const double under = turned ? small + large : large;
    const double t = under > 0 ? over / under : 0;  // |t| <= 0.4142
    const double w = t * t;
    // atan(t) / t as a polynomial in t^2: interpolation at ten Chebyshev points of 0..0.1716,
    // error of atan(t) below 4e-16.
    const double p = 0.999999999999999 +
                     w * (-0.3333333333322143 +
                          w * (0.19999999978392646 +
                               w * (-0.1428571266168377 +
                                    w * (0.11111048853718136 +
                                         w * (-0.09089529955963203 +
                                              w * (0.07673535421854269 +
                                                   w * (-0.06505982928361508 +
                                                        w * (0.050247619910680774 -
                                                             w * 0.025316477823864772))))))));
    double a = t * p + (turned ? std::numbers::pi / 4 : 0);
    a = ay > ax ? std::numbers::pi / 2 - a : a;
    a = x < 0 ? std::numbers::pi - a : a;
    return y < 0 ? -a : a;
}

}  // namespace keyhour::sun
