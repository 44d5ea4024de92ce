#pragma once
/// @file
/// Sine, cosine and arctangent from the four operations alone: the same digits on every processor,
/// and short enough to be compiled into the loop over a year of positions.

#include <cmath>
#include <cstdint>
#include <numbers>

#include "keyhour/sun/pair.hpp"

/// Where flash is dear (-Os), a function that is compiled once and called; else one that each loop
/// has of its own.
#ifdef __OPTIMIZE_SIZE__
#define KEYHOUR_INLINE_FOR_SPEED [[gnu::noinline]] inline
#else
#define KEYHOUR_INLINE_FOR_SPEED inline
#endif

namespace keyhour::sun {

/// A Number below is a double, or a Pair of them that are computed side by side.
template <class Number>
struct SineCosineOf {
    Number sine, cosine;
};
using SineCosine = SineCosineOf<double>;

/// The integer nearest to u, ties to even. @pre |u| < 2^51
template <class Number>
[[nodiscard]] inline Number nearest_integer(Number u) noexcept {
    constexpr double shift = 6755399441055744.0;  // 1.5 * 2^52: doubles beyond it are integers
    return (u + shift) - shift;
}

/// The fraction of a turn that whole turns leave of u, -0.5..0.5. @pre |u| < 2^51
template <class Number>
[[nodiscard]] inline Number fraction_of_turn(Number u) noexcept {
    return u - nearest_integer(u);
}

/// Cosine of an angle in turns (1 = 360 degrees), within 5e-14; zero is exact at quarter turns.
/// @pre |turns| < 2^51; beyond one turn the rounding of the argument adds to the error
template <class Number>
[[nodiscard]] KEYHOUR_INLINE_FOR_SPEED Number cosine_of_turns(Number turns) noexcept {
    // cos(2 pi f) = sin(2 pi (1/4 - |f|)): Taylor's series to x^17, bracketed so that a processor
    // can work on several terms at a time.
    const Number x =
        (0.25 - magnitude(fraction_of_turn(turns))) * (2 * std::numbers::pi);  // |x| <= pi/2
    const Number w = x * x, w2 = w * w, w4 = w2 * w2;
    const Number low = (1 - w * (1.0 / 6)) + w2 * (1.0 / 120 - w * (1.0 / 5040));
    const Number high = (1.0 / 362880 - w * (1.0 / 39916800)) +
                        w2 * (1.0 / 6227020800.0 - w * (1.0 / 1307674368000.0)) +
                        w4 * (1.0 / 355687428096000.0);
    return x * (low + w4 * high);
}

/// Sine and cosine of an angle in turns, as cosine_of_turns().
[[nodiscard]] KEYHOUR_INLINE_FOR_SPEED SineCosine sine_cosine_of_turns(double turns) noexcept {
    const Pair cosines = cosine_of_turns(Pair{turns - 0.25, turns});
    return {cosines[0], cosines[1]};
}
[[nodiscard]] inline SineCosineOf<Pair> sine_cosine_of_turns(Pair turns) noexcept {
    return {cosine_of_turns(turns - 0.25), cosine_of_turns(turns)};
}

/// Sine and cosine of an angle in radians, as cosine_of_turns().
[[nodiscard]] inline SineCosine sine_cosine(double radians) noexcept {
    return sine_cosine_of_turns(radians * (0.5 / std::numbers::pi));
}

/// Direction of the point (x, y), radians, -pi..pi, within 4e-13; zero for the origin.
template <class Number>
[[nodiscard]] KEYHOUR_INLINE_FOR_SPEED Number arctangent(Number y, Number x) noexcept {
    const Number zero{};
    const Number ax = magnitude(x), ay = magnitude(y);
    const Number large = ax > ay ? ax : ay;
    const Number small = ax > ay ? ay : ax;
    // Turning by 45 degrees brings every slope in 0..1 below tan(22.5 degrees) = 0.4142.
    const auto turned = small > 0.41421356237309503 * large;
    constexpr double tiny = 1e-300;  // for the origin
    const Number over = turned ? small - large : small;
    const Number under = turned ? small + large : large + tiny;
    const Number t = over / under;  // |t| <= 0.4142
    // atan(t) / t as a polynomial in t^2: interpolation at eight Chebyshev points of 0..0.1716,
    // error of atan(t) below 3e-13.
    const Number w = t * t, w2 = w * w, w4 = w2 * w2;
    const Number p = ((0.9999999999992447 - w * 0.3333333327692246) +
                      w2 * (0.1999999305355202 - w * 0.142853865536056)) +
                     w4 * ((0.1110345690627532 - w * 0.08992552881325808) +
                           w2 * (0.06974197572958282 - w * 0.03765510398052598));
    const Number near = t * p + (turned ? zero + std::numbers::pi / 4 : zero);
    const Number first = ay > ax ? std::numbers::pi / 2 - near : near;
    const Number half = x < zero ? std::numbers::pi - first : first;
    return y < zero ? -half : half;
}

}  // namespace keyhour::sun
