#include "keyhour/light/clear_sky.hpp"

#include <algorithm>
#include <cmath>

#include "keyhour/light/clear_spectrum.hpp"
#include "keyhour/light/colour_temperature.hpp"
#include "keyhour/light/sun_disc.hpp"
#include "keyhour/light/twilight.hpp"
#include "smooth_step.hpp"

namespace keyhour::light {
namespace {

constexpr double twilight_below_deg = 4, diffuse_chain_from_deg = 8;
constexpr double weakest_coloured_lx = 50;

double kelvin(const Tristimulus& light) {
    return colour_temperature(chromaticity(light)).kelvin;
}

/// The chain's light at one altitude, at 1 au, the whole disc in sight.
struct Chain {
    Tristimulus direct;
    Tristimulus sky;  ///< at the altitude, or at 4 degrees where the sun is lower
    double direct_kelvin, sky_kelvin;
};

Altitude for_sky(Altitude apparent) {
    return std::max(apparent, Altitude{Angle::degrees(twilight_below_deg)});
}

Chain chain(const ClearSpectra& spectra, Altitude apparent) {
    const Tristimulus direct = tristimulus(spectra.direct(apparent));
    const Tristimulus sky = tristimulus(spectra.diffuse(for_sky(apparent)));
    return {direct, sky, kelvin(direct), kelvin(sky)};
}

/// The sky's level: near and below the horizon what the twilight curve leaves beside the beam.
double sky_lx(const SkyState& state, double chain_sky_lx, double direct_horizontal_lx) {
    const double by_distance = 1 / (state.distance_au * state.distance_au);
    const double h = state.apparent.above_horizon.in_degrees();
    const double weight =
        smooth_step((h - twilight_below_deg) / (diffuse_chain_from_deg - twilight_below_deg));
    if (weight >= 1) return chain_sky_lx * by_distance;
    const double total = clear_day_to_night_lx(state.true_altitude) * by_distance;
    // A guard for thin clean air on high mountains, where the beam alone comes near the curve.
    constexpr double least_share = 0.2;
    const double low = std::max(total - direct_horizontal_lx, least_share * total);
    return low + weight * (chain_sky_lx * by_distance - low);
}

SkyLevels combine(const Chain& light, const SkyState& state) {
    const double share = disc_share(state.apparent, state.distance_au);
    const double beam = share / (state.distance_au * state.distance_au);
    const double slope = std::max(sin(state.apparent.above_horizon), 0.0);

    SkyLevels out;
    out.direct_normal_lx = beam * light.direct.Y;
    const double direct_horizontal = out.direct_normal_lx * slope;
    out.diffuse_horizontal_lx = sky_lx(state, light.sky.Y, direct_horizontal);
    out.global_horizontal_lx = direct_horizontal + out.diffuse_horizontal_lx;
    out.direct = beam * light.direct;
    out.sky = (out.diffuse_horizontal_lx / light.sky.Y) * light.sky;
    if (out.direct_normal_lx >= weakest_coloured_lx) out.direct_kelvin = light.direct_kelvin;
    if (share > 0) {
        out.sky_kelvin = light.sky_kelvin;
        out.mix_kelvin = kelvin(slope * out.direct + out.sky);
    }
    return out;
}

/// A factor that varies with altitude, straight in its logarithm between the rows.
struct Spread {
    double altitude_deg, factor;
};
constexpr std::array<Spread, 3> beam_spread{Spread{5, 2}, Spread{10, 1.25}, Spread{30, 1.10}};
constexpr std::array<Spread, 3> ground_spread{Spread{-6, 2}, Spread{0, 1.5}, Spread{10, 1.2}};

template <std::size_t N>
double log_spread(const std::array<Spread, N>& rows, double h) {
    if (h <= rows.front().altitude_deg) return std::log(rows.front().factor);
    for (std::size_t i = 1; i < N; ++i) {
        if (h > rows[i].altitude_deg) continue;
        const double t =
            (h - rows[i - 1].altitude_deg) / (rows[i].altitude_deg - rows[i - 1].altitude_deg);
        return std::lerp(std::log(rows[i - 1].factor), std::log(rows[i].factor), t);
    }
    return std::log(rows.back().factor);
}

/// Doubt of the air and doubt of the model are independent: their logarithms add as squares.
Band band(double clearer, double likely, double hazier, double log_model) {
    constexpr double nothing_lx = 1e-9;  // keeps the logarithms finite; far below starlight
    const double low = std::min({clearer, likely, hazier}) + nothing_lx;
    const double high = std::max({clearer, likely, hazier}) + nothing_lx;
    const double middle = likely + nothing_lx;
    return {std::max(middle * std::exp(-std::hypot(std::log(middle / low), log_model)) - nothing_lx,
                     0.0),
            likely, middle * std::exp(std::hypot(std::log(high / middle), log_model)) - nothing_lx};
}

SkyBand band(const SkyState& state, const SkyLevels& clearer, const SkyLevels& likely,
             const SkyLevels& hazier) {
    const double h = state.apparent.above_horizon.in_degrees();
    const auto of = [&](double SkyLevels::*level, double log_model) {
        return band(clearer.*level, likely.*level, hazier.*level, log_model);
    };
    SkyBand out{
        .direct_normal_lx = of(&SkyLevels::direct_normal_lx, log_spread(beam_spread, h)),
        .diffuse_horizontal_lx =
            of(&SkyLevels::diffuse_horizontal_lx, log_spread(ground_spread, h)),
        .global_horizontal_lx = of(&SkyLevels::global_horizontal_lx, log_spread(ground_spread, h)),
        .direct_kelvin = {},
        .likely = likely};
    if (likely.direct_kelvin) {
        const double middle = *likely.direct_kelvin;
        out.direct_kelvin = Band{std::min(hazier.direct_kelvin.value_or(middle), middle), middle,
                                 std::max(clearer.direct_kelvin.value_or(middle), middle)};
    }
    return out;
}

}  // namespace

SkyLevels clear_sky(const SkyState& state, Air air) noexcept {
    return combine(chain(ClearSpectra{air, state.elevation_m}, state.apparent), state);
}

SkyBand sky_band(const SkyState& state, Air air) noexcept {
    const NeighbouringAir airs = neighbouring_air(air);
    return band(state, clear_sky(state, airs.clearer), clear_sky(state, airs.likely),
                clear_sky(state, airs.hazier));
}

ClearSkyTable::ClearSkyTable(Air air, double elevation_m) noexcept {
    const ClearSpectra spectra{air, elevation_m};
    for (std::size_t i = 0; i <= steps; ++i) {
        const double root = static_cast<double>(i) / steps;
        const Altitude apparent{Angle::degrees(90 * root * root)};
        const Tristimulus direct = tristimulus(spectra.direct(apparent));
        // Never asked for below 4 degrees; at the horizon itself it has no colour.
        const Altitude high_enough = std::max(apparent, Altitude{Angle::degrees(2)});
        const Tristimulus sky = tristimulus(spectra.diffuse(high_enough));
        Row& row = rows_[i];
        row[log_direct_lx] = std::log(direct.Y);
        row[direct_X_by_Y] = direct.X / direct.Y;
        row[direct_Z_by_Y] = direct.Z / direct.Y;
        row[direct_mired] = 1e6 / kelvin(direct);
        row[sky_lx] = sky.Y;
        row[sky_X_by_Y] = sky.X / sky.Y;
        row[sky_Z_by_Y] = sky.Z / sky.Y;
        row[sky_mired] = 1e6 / kelvin(sky);
    }
}

/// By the cubic through the four nearest rows.
ClearSkyTable::Row ClearSkyTable::at(double apparent_deg) const noexcept {
    const double place = steps * std::sqrt(std::clamp(apparent_deg, 0.0, 90.0) / 90);
    const auto first = std::min(static_cast<std::size_t>(std::max(place - 1, 0.0)), steps - 3);
    const double t = place - static_cast<double>(first);  // 0..3, mostly 1..2
    const std::array<double, 4> weights{-(t - 1) * (t - 2) * (t - 3) / 6, t * (t - 2) * (t - 3) / 2,
                                        -t * (t - 1) * (t - 3) / 2, t * (t - 1) * (t - 2) / 6};
    Row out{};
    for (std::size_t k = 0; k < weights.size(); ++k)
        for (std::size_t column = 0; column < column_count; ++column)
            out[column] += weights[k] * rows_[first + k][column];
    return out;
}

SkyLevels ClearSkyTable::levels(const SkyState& state) const noexcept {
    const Row low = at(state.apparent.above_horizon.in_degrees());
    const Row high = at(for_sky(state.apparent).above_horizon.in_degrees());
    const double direct = std::exp(low[log_direct_lx]), sky = high[sky_lx];
    const Chain light{.direct = direct * Tristimulus{low[direct_X_by_Y], 1, low[direct_Z_by_Y]},
                      .sky = sky * Tristimulus{high[sky_X_by_Y], 1, high[sky_Z_by_Y]},
                      .direct_kelvin = 1e6 / low[direct_mired],
                      .sky_kelvin = 1e6 / high[sky_mired]};
    return combine(light, state);
}

SkyBandTable::SkyBandTable(Air air, double elevation_m) noexcept
    : clearer_{neighbouring_air(air).clearer, elevation_m},
      likely_{neighbouring_air(air).likely, elevation_m},
      hazier_{neighbouring_air(air).hazier, elevation_m} {}

SkyBand SkyBandTable::band(const SkyState& state) const noexcept {
    return light::band(state, clearer_.levels(state), likely_.levels(state), hazier_.levels(state));
}

}  // namespace keyhour::light
