#pragma once
/// @file
/// How much light, and of what colour, the sun and a cloudless sky give, by day and by night.

#include <array>
#include <cstddef>
#include <optional>

#include "keyhour/light/air.hpp"
#include "keyhour/light/spectrum.hpp"
#include "keyhour/sun/angle.hpp"

namespace keyhour::light {

/// Where the sun stands, and from how high it is seen.
struct SkyState {
    Altitude apparent;       ///< refracted: the beam's way through the air
    Altitude true_altitude;  ///< airless: twilight
    double elevation_m = 0;  ///< of the site, -500..11 000 m
    double distance_au = 1;  ///< of the sun
};

/// Levels in lx, colours in kelvin (1000..15 000; at an end the true value may lie beyond).
struct SkyLevels {
    double direct_normal_lx = 0;       ///< sun alone, on a plane square to the beam
    double diffuse_horizontal_lx = 0;  ///< sky alone, on a level plane
    double global_horizontal_lx = 0;   ///< both, on a level plane
    /// The first two with their colour, to be mixed in other proportions; Y is the level. Once the
    /// sun is down the sky's has its level, but no model for its colour.
    Tristimulus direct, sky;
    /// Of the beam; nothing below 50 lx, where it adds no colour.
    std::optional<double> direct_kelvin;
    /// Of the sky as a whole, an order of magnitude: patches of a clear sky run from 3800 K to
    /// beyond every number (Hernandez-Andres et al. 2001). Nothing once the sun is down: no model.
    std::optional<double> sky_kelvin;
    std::optional<double> mix_kelvin;  ///< of both on a level plane; nothing once the sun is down
};

/// Sun and cloudless sky at one instant.
/// @param state  any altitudes, -90..90 degrees
/// @return       one smooth function of the altitude, without jumps. Sun: the spectral chain of
///               Bird & Riordan, dimmed by the visible share of the disc. Sky: their diffuse part
///               from 8 degrees up; below 4 degrees the twilight curve (twilight.hpp) less the
///               beam's part, and between them a mixture (this project's choice). Below the
///               horizon the twilight curve, from -18 degrees its floor. The sky's colour below 4
///               degrees is that of 4 degrees.
/// Error: see sky_band; beside it even a word for the air says little below 15 degrees.
/// Some 5 us; in loops use ClearSkyTable.
[[nodiscard]] SkyLevels clear_sky(const SkyState& state, Air air = normal_air) noexcept;

/// What may be, what is likely: low <= likely <= high.
struct Band {
    double low = 0, likely = 0, high = 0;
};

/// The same levels with an honest doubt.
struct SkyBand {
    Band direct_normal_lx, diffuse_horizontal_lx, global_horizontal_lx;
    std::optional<Band> direct_kelvin;  ///< over those of the three airs that have a colour
    SkyLevels likely;
};

/// The levels over the neighbouring airs, joined (root of squares, as factors) with the spread of
/// the published models: for the beam 10 % from 30 degrees up, 25 % at 10, a factor 2 at 5 and
/// below; for sky and total 20 % from 10 degrees up (found against USNO Circular 171), and by this
/// project's choice a factor 1.5 at the horizon, 2 from -6 degrees on. The joining is ours too.
[[nodiscard]] SkyBand sky_band(const SkyState& state, Air air = normal_air) noexcept;

/// The clear sky of one place and air, tabulated against altitude: for loops.
/// Levels within 0.1 % of clear_sky, colours within 0.2 mired.
/// Holds 6 kB, takes no heap; 0.2 ms to build, 0.5 us a question.
class ClearSkyTable {
public:
    explicit ClearSkyTable(Air air = normal_air, double elevation_m = 0) noexcept;

    /// @param state  its elevation is passed over: the table's own holds
    [[nodiscard]] SkyLevels levels(const SkyState& state) const noexcept;

    /// At one apparent altitude, 1 au from the sun, the whole disc in sight.
    enum Column {
        log_direct_lx,
        direct_X_by_Y,
        direct_Z_by_Y,
        direct_mired,
        sky_lx,
        sky_X_by_Y,
        sky_Z_by_Y,
        sky_mired,
        column_count
    };
    using Row = std::array<double, column_count>;

private:
    static constexpr std::size_t steps = 96;
    std::array<Row, steps + 1> rows_;  ///< evenly spaced in the square root of the altitude

    [[nodiscard]] Row at(double apparent_deg) const noexcept;
};

/// The band of one place and air, tabulated.
class SkyBandTable {
public:
    explicit SkyBandTable(Air air = normal_air, double elevation_m = 0) noexcept;
    [[nodiscard]] SkyBand band(const SkyState& state) const noexcept;

private:
    ClearSkyTable clearer_, likely_, hazier_;
};

}  // namespace keyhour::light
