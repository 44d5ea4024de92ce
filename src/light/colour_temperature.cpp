#include "keyhour/light/colour_temperature.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace keyhour::light {
namespace {

/// CIE 1960 uniform chromaticity.
struct Uv {
    double u, v;
};

Uv uv(Chromaticity c) {
    const double d = -2 * c.x + 12 * c.y + 3;
    return {4 * c.x / d, 6 * c.y / d};
}

/// The black body's place (Krystek 1985).
Uv black_body(double T) {
    const double u = (0.860117757 + T * (1.54118254e-4 + T * 1.28641212e-7)) /
                     (1 + T * (8.42420235e-4 + T * 7.08145163e-7));
    const double v = (0.317398726 + T * (4.22806245e-5 + T * 4.20481691e-8)) /
                     (1 + T * (-2.89741816e-5 + T * 1.61456053e-7));
    return {u, v};
}

double squared_distance(Uv a, Uv b) {
    return (a.u - b.u) * (a.u - b.u) + (a.v - b.v) * (a.v - b.v);
}

/// The mired of the nearest black body, between low and high, by golden section: near a minimum
/// the distance is flat, so a tenth of the last digit's square root is as far as it can be read.
double nearest_mired(Uv p, double low, double high) {
    constexpr double golden = 1 / std::numbers::phi;
    const auto distance = [&](double mired) {
        return squared_distance(p, black_body(1e6 / mired));
    };
    double a = high - golden * (high - low), b = low + golden * (high - low);
    double at_a = distance(a), at_b = distance(b);
    while (high - low > 1e-4) {
        if (at_a < at_b) {
            high = b, b = a, at_b = at_a;
            a = high - golden * (high - low), at_a = distance(a);
        } else {
            low = a, a = b, at_a = at_b;
            b = low + golden * (high - low), at_b = distance(b);
        }
    }
    return (low + high) / 2;
}

}  // namespace

Chromaticity chromaticity(const Tristimulus& t) noexcept {
    const double sum = t.X + t.Y + t.Z;
    return sum > 0 ? Chromaticity{t.X / sum, t.Y / sum} : Chromaticity{};
}

Tristimulus black_body_colour(double kelvin) noexcept {
    const Uv p = black_body(std::clamp(kelvin, lowest_kelvin, highest_kelvin));
    // CIE 1960 u, v back to x, y.
    const double d = 2 * p.u - 8 * p.v + 4;
    const double x = 3 * p.u / d, y = 2 * p.v / d;
    return {x / y, 1, (1 - x - y) / y};
}

ColourTemperature colour_temperature(Chromaticity c) noexcept {
    constexpr double lowest_mired = 1e6 / highest_kelvin, highest_mired = 1e6 / lowest_kelvin;
    constexpr int brackets = 12;
    const Uv p = uv(c);
    // Bracket first: far from the curve the distance may have two dips.
    const double step = (highest_mired - lowest_mired) / brackets;
    double best = lowest_mired, best_distance = squared_distance(p, black_body(highest_kelvin));
    for (int i = 1; i <= brackets; ++i) {
        const double mired = lowest_mired + i * step;
        const double d = squared_distance(p, black_body(1e6 / mired));
        if (d < best_distance) best = mired, best_distance = d;
    }
    const double mired = nearest_mired(p, std::fmax(best - step, lowest_mired),
                                       std::fmin(best + step, highest_mired));
    const double kelvin = mired - lowest_mired < 1e-3    ? highest_kelvin
                          : highest_mired - mired < 1e-3 ? lowest_kelvin
                                                         : 1e6 / mired;
    const Uv nearest = black_body(kelvin);
    // Above the curve, where v is larger, lies green.
    const double sign = p.v >= nearest.v ? 1 : -1;
    return {kelvin, sign * std::sqrt(squared_distance(p, nearest))};
}

}  // namespace keyhour::light
