#include "keyhour/sun/refraction.hpp"

#include "keyhour/sun/trigonometry.hpp"

namespace keyhour::sun {

Angle refraction(Altitude true_altitude, const Weather& weather) noexcept {
    const double h = true_altitude.above_horizon.in_radians();
    const auto [s, c] = sine_cosine(h);
    return Angle::radians(saemundsson(h, s, c, refraction_factor(weather)));
}

}  // namespace keyhour::sun
