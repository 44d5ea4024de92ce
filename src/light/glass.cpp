#include "keyhour/light/glass.hpp"

#include <algorithm>
#include <cmath>

namespace keyhour::light {
namespace {

constexpr double refractive_index = 1.526;
constexpr double KL = 0.018;  // extinction times thickness, square through one pane

/// Through the panes in one polarisation: r is reflected at each face, a left after one crossing.
double through(Panes panes, double r, double a) {
    const double T1 = a * (1 - r) * (1 - r) / (1 - r * a * r * a);
    if (panes == Panes::one) return T1;
    const double R1 = r * (1 + a * T1);
    return T1 * T1 / (1 - R1 * R1);
}

}  // namespace

double transmittance_at_cosine(Panes panes, double cos_incidence) noexcept {
    if (cos_incidence <= 0) return 0;
    if (panes == Panes::none) return 1;
    // c, c2: cosines outside and within the glass; Fresnel in their terms has no hole at 0 degrees.
    const double c = std::min(cos_incidence, 1.0);
    const double c2 = std::sqrt(1 - (1 - c * c) / (refractive_index * refractive_index));
    const double s = (c - refractive_index * c2) / (c + refractive_index * c2);
    const double p = (refractive_index * c - c2) / (refractive_index * c + c2);
    const double a = std::exp(-KL / c2);
    return (through(panes, s * s, a) + through(panes, p * p, a)) / 2;
}

double transmittance(Panes panes, Angle incidence) noexcept {
    const Angle size = std::max(incidence, -incidence);
    if (size >= Angle::degrees(90)) return 0;
    return transmittance_at_cosine(panes, cos(size));
}

double diffuse_transmittance(Panes panes) noexcept {
    return transmittance(panes, Angle::degrees(60));
}

}  // namespace keyhour::light
