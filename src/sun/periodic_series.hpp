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

/// The terms of one sum, column by column, angles in turns; filled up with zeros to whole groups
/// of four, which a processor adds side by side.
template <std::size_t N>
struct PeriodicSeries {
    static constexpr std::size_t columns = (N + 3) / 4 * 4;
    double constant = 0;  ///< terms of rate zero: the polynomial's own coefficient
    double amplitude[columns]{}, phase[columns]{}, rate[columns]{};

    explicit constexpr PeriodicSeries(const std::array<SeriesTerm, N>& terms) {
        std::size_t i = 0;
        for (const SeriesTerm& term : terms) {
            if (term.rate == 0) {  // phase is 0 or pi
                constant += term.phase < 1 ? term.amplitude : -term.amplitude;
                continue;
            }
            amplitude[i] = term.amplitude;
            phase[i] = term.phase * (0.5 / std::numbers::pi);
            rate[i] = term.rate * (0.5 / std::numbers::pi);
            ++i;
        }
    }

    /// The sum at t. Error of the arithmetic: 7e-12 of the amplitudes.
    [[nodiscard]] double at(double t) const noexcept {
        double sum[4] = {constant, 0, 0, 0};
        for (std::size_t i = 0; i < columns; i += 4) {
            for (std::size_t k = 0; k < 4; ++k) {
                sum[k] += amplitude[i + k] * cosine_of_turns(phase[i + k] + rate[i + k] * t);
            }
        }
        return (sum[0] + sum[1]) + (sum[2] + sum[3]);
    }
};

}  // namespace keyhour::sun
