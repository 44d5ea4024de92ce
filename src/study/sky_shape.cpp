#include "sky_shape.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace keyhour::study {
namespace {

constexpr double half_pi = std::numbers::pi / 2;

}  // namespace

SkyShape::SkyShape(int cie_type) : number_{cie_type}, type_{light::cie_sky_type(cie_type)} {
    for (std::size_t i = 0; i < about_sun_.size(); ++i) {
        const double sine = std::min(static_cast<double>(i) / sun_steps, 1.0);
        const double angle = 2 * std::asin(sine), cosine = std::cos(angle);
        about_sun_[i] = 1 + type_.c * (std::exp(type_.d * angle) - std::exp(type_.d * half_pi)) +
                        type_.e * cosine * cosine;
    }
}

double SkyShape::gradation(double sine_altitude) const noexcept {
    return sine_altitude > 0 ? 1 + type_.a * std::exp(type_.b / sine_altitude) : 1;
}

double SkyShape::about_sun(double cosine) const noexcept {
    const double place = sun_steps * std::sqrt(std::max(0.0, (1 - cosine) / 2));
    const auto i = std::min(static_cast<std::size_t>(place), sun_steps);
    return std::lerp(about_sun_[i], about_sun_[i + 1], place - static_cast<double>(i));
}

double SkyShape::dome(double sine_altitude) const noexcept {
    const double sine = std::clamp(sine_altitude, 0.0, 1.0);
    constexpr double one_lx = 1;
    const light::Sky sky{number_, {Angle::radians(std::asin(sine))}, {}, one_lx};
    return gradation(1) * about_sun(sine) / sky.zenith_luminance_cd_m2();
}

}  // namespace keyhour::study
