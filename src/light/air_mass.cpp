#include "keyhour/light/air_mass.hpp"

#include <algorithm>
#include <cmath>

namespace keyhour::light {

double relative_air_mass(Altitude apparent) noexcept {
    // gamma in degrees, a, b and c as in the paper
    constexpr double a = 0.50572, b = 6.07995, c = 1.6364;
    const double gamma = std::clamp(apparent.above_horizon.in_degrees(), 0.0, 90.0);
    return 1 / (sin(Angle::degrees(gamma)) + a * std::pow(gamma + b, -c));
}

}  // namespace keyhour::light
