#pragma once
/// @file
/// Sums of A cos(B + C t): a table of terms as published, laid out for the processor by the
/// compiler.

#include <array>
#include <cstddef>
#include <numbers>

#include "keyhour/sun/trigonometry.hpp"

namespace keyhour::sun {

/// One term as printed: amplitude (unit of the sum), phase (radians), rate (radians per unit of t).
struct SeriesTerm {
    double amplitude, phase, rate;
};

/// @param columns  a multiple of four
[[nodiscard]] KEYHOUR_INLINE_FOR_SPEED double sum_of_columns(
    double constant, const double* amplitude, const double* phase, const double* rate,
    std::size_t columns, double t) noexcept {
    const auto terms_at = [=](std::size_t i) {
        return pair_at(amplitude + i) * cosine_of_turns(pair_at(phase + i) + pair_at(rate + i) * t);
    };
    Pair even = {constant, 0}, odd = {};
    for (std::size_t i = 0; i < columns; i += 4) {
        even += terms_at(i);
        odd += terms_at(i + 2);
    }
    const Pair sum = even + odd;
    return sum[0] + sum[1];
}

/// The terms of one sum, column by column, two side by side, angles in turns; filled up with zeros
/// to whole groups of four.
template <std::size_t N>
struct PeriodicSeries {
    static constexpr std::size_t columns = (N + 3) / 4 * 4;
    double constant = 0;  ///< terms of rate zero: the polynomial's own coefficient
    double amplitude[columns]{}, phase[columns]{}, rate[columns]{};

    /// The sum at t. Error of the arithmetic: 5e-14 of the amplitudes.
    [[nodiscard]] double at(double t) const noexcept {
        return sum_of_columns(constant, amplitude, phase, rate, columns, t);
    }
};

/// The columns of a table of terms. (A function, not a constructor: GCC puts constants that have a
/// constructor where they could be written to.)
template <std::size_t N>
[[nodiscard]] consteval PeriodicSeries<N> columns_of(const std::array<SeriesTerm, N>& terms) {
    PeriodicSeries<N> series;
    std::size_t i = 0;
    for (const SeriesTerm& term : terms) {
        if (term.rate == 0) {  // phase is 0 or pi
            series.constant += term.phase < 1 ? term.amplitude : -term.amplitude;
            continue;
        }
        series.amplitude[i] = term.amplitude;
        series.phase[i] = term.phase * (0.5 / std::numbers::pi);
        series.rate[i] = term.rate * (0.5 / std::numbers::pi);
        ++i;
    }
    return series;
}

}  // namespace keyhour::sun
