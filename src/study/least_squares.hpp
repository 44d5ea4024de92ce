#pragma once
// Small dense matrices of generalised least squares.

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

/// Inverse of a symmetric positive definite matrix.
[[nodiscard]] Matrix inverse(Matrix a);

}  // namespace keyhour::study
