#pragma once
/// @file
/// How bright it is outside through the day: level ground in the open, under a clear sky, mean
/// cloud and overcast.

#include <optional>
#include <vector>

#include "keyhour/light/clear_sky.hpp"
#include "keyhour/study/day.hpp"
#include "keyhour/study/sun_path.hpp"

namespace keyhour::study {

/// One instant. Levels of level ground, lx; the skyline takes the sun away, and no sky.
struct DayLight {
    Instant at;
    std::optional<DayEventKind> event;  ///< none: a whole hour
    double true_altitude_deg = 0;
    bool in_sun = false;        ///< the sun stands over the site's skyline
    light::Band clear_lx;       ///< over the neighbouring airs and the models (sky_band)
    light::Band sun_normal_lx;  ///< the sun alone, square to its beam
    double mean_cloud_lx = 0;   ///< an average over time (light/overcast.hpp)
    double overcast_lx = 0;     ///< a mean: real overcast lies a stop and more to either side
    /// Nothing where there is no model or no light: the sun below the horizon, the beam too weak.
    std::optional<double> sun_kelvin, sky_kelvin, mix_kelvin;
};

/// At the day's events and at every whole hour of the clock, while the sun is above -18 degrees
/// (events) or -6 degrees (hours); ascending.
/// @pre path covers the date
[[nodiscard]] std::vector<DayLight> day_light(const site::Site& site, const SunPath& path,
                                              const Day& day);

}  // namespace keyhour::study
