#include "outside_light.hpp"

#include <algorithm>

#include "keyhour/light/colour_temperature.hpp"

namespace keyhour::study {
namespace {

Outside overcast_outside(double lx) {
    return {0, 0, lx, lx};
}

/// Half of the sky's light has the gradation of the blue sky, half that of the cloud.
Outside mean_outside(const light::SkyLevels& clear, const light::SkyState& state) {
    const light::SkyLevels l = light::under_cloud(clear, state, light::Cloud::mean);
    const double half = l.diffuse_horizontal_lx / 2;
    return {l.direct_normal_lx, half, half, l.global_horizontal_lx};
}

}  // namespace

Outside clear_outside(const light::SkyLevels& l) {
    return {l.direct_normal_lx, l.diffuse_horizontal_lx, 0, l.global_horizontal_lx};
}

Outsides outsides_of(const ClearSkies& clear, const light::SkyState& state, light::Cloud cloud) {
    const double closed_lx = light::overcast_horizontal_lx(state.true_altitude);
    const Outside clearer = clear_outside(clear.clearer), likely = clear_outside(clear.likely),
                  hazier = clear_outside(clear.hazier);
    switch (cloud) {
        case light::Cloud::none:
            return {{clearer, likely, hazier}, 3};
        case light::Cloud::mean:
            return {
                {overcast_outside(closed_lx), mean_outside(clear.likely, state), clearer, likely,
                 hazier, mean_outside(clear.clearer, state), mean_outside(clear.hazier, state)},
                7};
        case light::Cloud::overcast:
            break;
    }
    constexpr double one_stop = 2;
    return {{overcast_outside(closed_lx / one_stop), overcast_outside(closed_lx),
             overcast_outside(closed_lx * one_stop)},
            3};
}

std::optional<double> Mix::kelvin() const {
    constexpr double weakest_coloured_lx = 1;
    if (sum.Y < weakest_coloured_lx) return {};
    return light::colour_temperature(light::chromaticity(sum)).kelvin;
}

Colours::Colours(const light::SkyLevels& l, double sine_altitude)
    : direct{l.direct}, sky{l.sky}, both{std::max(0.0, sine_altitude) * l.direct + l.sky} {}

}  // namespace keyhour::study
