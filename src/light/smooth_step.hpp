#pragma once
/// @file
/// The way from one model to the next without a jump or a kink.

#include <algorithm>

namespace keyhour::light {

/// 0 up to t = 0, 1 from t = 1, flat at both ends.
[[nodiscard]] constexpr double smooth_step(double t) noexcept {
    const double x = std::clamp(t, 0.0, 1.0);
    return x * x * (3 - 2 * x);
}

}  // namespace keyhour::light
