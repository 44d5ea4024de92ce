#include "keyhour/light/overcast.hpp"

#include <algorithm>
#include <cmath>

#include "keyhour/light/twilight.hpp"

namespace keyhour::light {
namespace {

constexpr double cover = 0.5;  ///< mean cloud: share of the sky

/// Of one lx under cloud: CIE D65, average daylight of about overcast_kelvin. Source: ISO/CIE
/// 11664-2, from memory.
constexpr Tristimulus grey{0.95047, 1, 1.08883};

/// Kasten & Czeplak 1980.
double cloud_factor(double N) {
    return 1 - 0.75 * std::pow(N, 3.4);
}

double mean_mired_kelvin(double a, double share_of_a, double b) {
    return 1 / (share_of_a / a + (1 - share_of_a) / b);
}

SkyLevels overcast(const SkyLevels& clear, const SkyState& state) {
    SkyLevels out;
    out.diffuse_horizontal_lx = overcast_horizontal_lx(state.true_altitude);
    out.global_horizontal_lx = out.diffuse_horizontal_lx;
    out.sky = out.diffuse_horizontal_lx * grey;
    if (clear.sky_kelvin) out.sky_kelvin = out.mix_kelvin = overcast_kelvin;
    return out;
}

SkyLevels mean_cloud(const SkyLevels& clear) {
    SkyLevels out = clear;
    const double beam = clear.global_horizontal_lx - clear.diffuse_horizontal_lx;
    out.direct_normal_lx *= 1 - cover;
    out.global_horizontal_lx *= cloud_factor(cover);
    out.diffuse_horizontal_lx = out.global_horizontal_lx - (1 - cover) * beam;
    out.direct = (1 - cover) * clear.direct;
    const Tristimulus blue = clear.sky.Y > 0 ? (1 / clear.sky.Y) * clear.sky : grey;
    out.sky = out.diffuse_horizontal_lx * ((1 - cover) * blue + cover * grey);
    if (clear.sky_kelvin)
        out.sky_kelvin = mean_mired_kelvin(*clear.sky_kelvin, 1 - cover, overcast_kelvin);
    if (out.sky_kelvin && clear.direct_kelvin) {
        const double share = (1 - cover) * beam / out.global_horizontal_lx;
        out.mix_kelvin = mean_mired_kelvin(*clear.direct_kelvin, share, *out.sky_kelvin);
    } else {
        out.mix_kelvin = out.sky_kelvin;
    }
    return out;
}

Band ordered(double low, double likely, double high) {
    return {std::min(low, likely), likely, std::max(high, likely)};
}

}  // namespace

double overcast_horizontal_lx(Altitude true_altitude) noexcept {
    constexpr double at_horizon_lx = 300;
    const double sine = sin(true_altitude.above_horizon);
    if (sine >= 0) return at_horizon_lx + 21000 * sine;
    return at_horizon_lx * clear_day_to_night_lx(true_altitude) / clear_day_to_night_lx({});
}

SkyLevels under_cloud(const SkyLevels& clear, const SkyState& state, Cloud cloud) noexcept {
    switch (cloud) {
        case Cloud::mean:
            return mean_cloud(clear);
        case Cloud::overcast:
            return overcast(clear, state);
        case Cloud::none:
            break;
    }
    return clear;
}

SkyLevels cloudy_sky(const SkyState& state, Air air, Cloud cloud) noexcept {
    return under_cloud(clear_sky(state, air), state, cloud);
}

SkyBand cloud_band(const SkyBand& clear, const SkyState& state, Cloud cloud) noexcept {
    if (cloud == Cloud::none) return clear;
    const SkyLevels likely = under_cloud(clear.likely, state, cloud);
    const double covered = overcast_horizontal_lx(state.true_altitude);
    SkyBand out;
    out.likely = likely;
    if (cloud == Cloud::overcast) {
        out.diffuse_horizontal_lx = {covered / 2, covered, covered * 2};
        out.global_horizontal_lx = out.diffuse_horizontal_lx;
        return out;
    }
    out.direct_normal_lx = ordered(0, likely.direct_normal_lx, clear.direct_normal_lx.high);
    out.diffuse_horizontal_lx =
        ordered(std::min(clear.diffuse_horizontal_lx.low, covered), likely.diffuse_horizontal_lx,
                std::max(clear.diffuse_horizontal_lx.high, covered));
    out.global_horizontal_lx =
        ordered(covered, likely.global_horizontal_lx, clear.global_horizontal_lx.high);
    out.direct_kelvin = clear.direct_kelvin;
    return out;
}

}  // namespace keyhour::light
