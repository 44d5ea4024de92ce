#include "keyhour/light/haze.hpp"

#include <cmath>
#include <numbers>

namespace keyhour::light {

double phase_function(Angle scattering, double asymmetry) noexcept {
    const double g = asymmetry;
    const double base = 1 + g * g - 2 * g * cos(scattering);
    return (1 - g * g) / (4 * std::numbers::pi * base * std::sqrt(base));
}

double haze_stops(Angle scattering, Angle than, double asymmetry) noexcept {
    return std::log2(phase_function(scattering, asymmetry) / phase_function(than, asymmetry));
}

double beam_luminance_cd_m2(double beam_lx, double scattering_per_m, double path_m,
                            Angle scattering, double asymmetry, double albedo) noexcept {
    return beam_lx * albedo * scattering_per_m * path_m * phase_function(scattering, asymmetry);
}

}  // namespace keyhour::light
