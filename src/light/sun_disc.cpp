#include "keyhour/light/sun_disc.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace keyhour::light {

double disc_share(Altitude apparent, double distance_au) noexcept {
    const double s = sun_semi_diameter(distance_au).in_radians();
    const double t = std::clamp(apparent.above_horizon.in_radians() / s, -1.0, 1.0);
    return 1 - (std::acos(t) - t * std::sqrt(1 - t * t)) / std::numbers::pi;
}

}  // namespace keyhour::light
