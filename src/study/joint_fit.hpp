#pragma once
// One bearing from everything that observations say: directions, and the heights of corners.

#include <vector>

#include "keyhour/study/circle_fit.hpp"

namespace keyhour::study {

/// One figure that an observation gives.
struct JointElement {
    std::size_t observation;
    bool is_height;                    ///< of the sun, less the one computed: should be zero
    std::vector<double> readings_deg;  ///< of the plan's bearing; or the one difference in height
    Contributions contributions;
};

struct JointFit {
    double value_deg, sigma_deg;
    double chi_square;
    int freedom;
    double cost;                         ///< chi-square, and the price of what is set aside
    std::vector<std::size_t> set_aside;  ///< observations, each once
};

/// A figure is set aside where that costs less than keeping it: beyond three of its own standard
/// deviations. Generalised least squares with the normalised residuals of Baarda (1968).
inline constexpr double price_of_one = 9;

/// The cheapest of the fits that begin at each reading. @param elements  one direction at least
[[nodiscard]] JointFit joint_fit(const std::vector<JointElement>& elements);

}  // namespace keyhour::study
