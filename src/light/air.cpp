#include "keyhour/light/air.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace keyhour::light {
namespace {

constexpr double haziest = 0.5;
/// The classes on a scale of their own, 0, 1, 2; one step more at each end.
constexpr std::array<double, 5> classes{0.03 * 0.03 / 0.08, 0.03, 0.08, 0.20, 0.20 * 0.20 / 0.08};

/// Place on that scale, straight in ln beta between the classes and beyond.
double class_number(double beta) {
    std::size_t i = 0;
    while (i + 2 < classes.size() && beta > classes[i + 1])
        ++i;
    const double fraction = std::log(beta / classes[i]) / std::log(classes[i + 1] / classes[i]);
    return static_cast<double>(i) + fraction;
}

double beta_at(double number) {
    const auto last = static_cast<double>(classes.size() - 2);
    const auto i = static_cast<std::size_t>(std::clamp(std::floor(number), 0.0, last));
    const double fraction = number - static_cast<double>(i);
    return classes[i] * std::pow(classes[i + 1] / classes[i], fraction);
}

}  // namespace

NeighbouringAir neighbouring_air(Air air) noexcept {
    constexpr double cleanest_on_scale = 0.001;  // ln of no haze at all has no value
    const double likely = std::clamp(air.beta, 0.0, haziest);
    const double number = class_number(std::max(likely, cleanest_on_scale));
    return {.clearer = {std::min(beta_at(number - 1), likely)},
            .likely = {likely},
            .hazier = {std::min(beta_at(number + 1), haziest)}};
}

}  // namespace keyhour::light
