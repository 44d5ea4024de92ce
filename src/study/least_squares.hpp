#pragma once
// Small dense matrices of generalised least squares.

#include <cmath>
#include <vector>

#include "keyhour/study/circle_fit.hpp"

namespace keyhour::study {

using Matrix = std::vector<std::vector<double>>;

/// Numbers alone must never make two observations exactly one: a hundredth of a degree.
inline constexpr double least_own_variance = 1e-4;

/// What the inputs that two observations share do to both, degrees squared.
[[nodiscard]] double shared_variance(const Contributions& a, const Contributions& b);

[[nodiscard]] double product(const std::vector<double>& a, const std::vector<double>& b);

/// r'M r, of a symmetric positive definite matrix; not below zero.
[[nodiscard]] double square_sum(const Matrix& m, const std::vector<double>& r);

/// The direction at which no shift is left. On the circle differences are taken from the value
/// itself, so it is found by iteration.
/// @param shift_at  what the weighed differences from a value would move it by
template <class ShiftAt>
[[nodiscard]] double settled(double value_deg, const ShiftAt& shift_at) {
    for (int round = 0; round < 10; ++round) {
        const double shift = shift_at(value_deg);
        if (std::abs(shift) < 1e-10) break;
        value_deg = turn_deg(value_deg + shift);
    }
    return value_deg;
}

/// Inverse of a symmetric positive definite matrix.
[[nodiscard]] Matrix inverse(Matrix a);

}  // namespace keyhour::study
