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

double relative_ozone_mass(Altitude apparent) noexcept {
    constexpr double shell_km = 22, earth_km = 6370;
    const double sine = std::max(sin(apparent.above_horizon), 0.0);
    return (1 + shell_km / earth_km) / std::sqrt(sine * sine + 2 * shell_km / earth_km);
}

double pressure_ratio(double elevation_m) noexcept {
    const double H = std::clamp(elevation_m, -500.0, 11000.0);
    return std::pow(1 - 2.25577e-5 * H, 5.25588);
}

}  // namespace keyhour::light
