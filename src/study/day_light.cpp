#include "keyhour/study/day_light.hpp"

#include <algorithm>
#include <cmath>

#include "keyhour/light/overcast.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/spot_light.hpp"

namespace keyhour::study {
namespace {

constexpr double lowest_hour_deg = -6;

/// Without the sun that hills keep away.
light::Band without_sun(const light::SkyBand& sky) {
    return sky.diffuse_horizontal_lx;
}

DayLight light_at(const light::SkyBandTable& table, double elevation_m, const SunPath& path,
                  Instant t, std::optional<DayEventKind> event) {
    const sun::Position p = path.position(t);
    const light::SkyState state{p.apparent_altitude, p.true_altitude, elevation_m, p.distance_au};
    const light::SkyBand sky = table.band(state);
    const light::SkyLevels mean = light::under_cloud(sky.likely, state, light::Cloud::mean);
    const Moment m = path.at(t);
    DayLight out;
    out.at = t;
    out.event = event;
    out.true_altitude_deg = p.true_altitude.above_horizon.in_degrees();
    // Before a level skyline the disc's upper part still shines with its centre down.
    out.in_sun = m.above_skyline_deg > 0;
    const bool hidden = m.altitude_deg > 0 && !out.in_sun;
    out.clear_lx = hidden ? without_sun(sky) : sky.global_horizontal_lx;
    out.mean_cloud_lx = hidden ? mean.diffuse_horizontal_lx : mean.global_horizontal_lx;
    out.overcast_lx = light::overcast_horizontal_lx(state.true_altitude);
    if (out.in_sun) out.sun_normal_lx = sky.direct_normal_lx;
    out.sun_kelvin = out.in_sun ? sky.likely.direct_kelvin : std::nullopt;
    out.sky_kelvin = sky.likely.sky_kelvin;
    out.mix_kelvin = hidden ? sky.likely.sky_kelvin : sky.likely.mix_kelvin;
    return out;
}

/// The whole hours of the clock on the date.
std::vector<Instant> whole_hours(const site::Zone& zone, site::LocalDate date) {
    constexpr double hour_s = 3600;
    const auto clock_s = [&](Instant t) {
        return t.unix_s() + static_cast<double>(zone.at(t).utc_offset.count());
    };
    std::vector<Instant> out;
    const Instant to = zone.start_of(site::next_day(date));
    for (Instant t = zone.start_of(date); t < to;) {
        const double past_s = std::fmod(clock_s(t), hour_s);
        if (past_s == 0) out.push_back(t);  // a change of clocks by half an hour shifts the rest
        t = t + Seconds{hour_s - past_s};
    }
    return out;
}

}  // namespace

std::vector<DayLight> day_light(const site::Site& site, const SunPath& path, const Day& day) {
    std::vector<DayLight> out;
    const double elevation_m = site.observer.elevation_m;
    const light::SkyBandTable table{air_of(site.air), elevation_m};
    for (const DayEvent& event : day.events)
        out.push_back(light_at(table, elevation_m, path, event.at, event.kind));
    for (const Instant t : whole_hours(site.zone, day.date)) {
        const DayLight light = light_at(table, elevation_m, path, t, std::nullopt);
        if (light.true_altitude_deg > lowest_hour_deg) out.push_back(light);
    }
    std::stable_sort(out.begin(), out.end(),
                     [](const DayLight& a, const DayLight& b) { return a.at < b.at; });
    return out;
}

}  // namespace keyhour::study
