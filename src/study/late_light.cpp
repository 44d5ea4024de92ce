#include "keyhour/study/late_light.hpp"

#include <algorithm>
#include <array>

#include "keyhour/light/exposure.hpp"
#include "keyhour/sun/events.hpp"

namespace keyhour::study {
namespace {

/// The sun's coming or going that a band is told with.
void note_change(LateLight& light, std::span<const DirectSpan> direct) {
    for (const DirectSpan& d : direct) {
        if (light.evening) {
            if (d.span.from < light.end && d.span.to >= light.end) {  // out to the end
                light.sun_at.reset();
                light.behind.clear();
                return;
            }
            if (d.span.to > light.end) continue;
            light.sun_at = d.span.to;
            light.behind = d.ends_by;
        } else {
            if (d.span.to <= light.start) continue;
            if (d.span.from <= light.start) return;
            light.sun_at = d.span.from;
            light.behind = d.begins_by;
            return;
        }
    }
}

light::SkyState state_at(const SunPath& path, const site::Site& site, Instant t) {
    const sun::Position p = path.position(t);
    return {p.apparent_altitude, p.true_altitude, site.observer.elevation_m, p.distance_au};
}

}  // namespace

std::vector<LateLight> late_light(const sun::Track& track, const sun::Place& place, Instant from,
                                  Instant to, const LateLightBand& band) {
    std::vector<Instant> bounds{from, to};
    for (const Altitude altitude : {band.low, band.high}) {
        std::array<sun::Crossing, 8> at{};
        const auto found = sun::crossings(track, place, altitude, from, to, at);
        for (std::size_t i = 0; i < found.count; ++i)
            bounds.push_back(at[i].at);
    }
    std::sort(bounds.begin(), bounds.end());
    std::vector<LateLight> out;
    for (std::size_t i = 0; i + 1 < bounds.size(); ++i) {
        const Instant middle = bounds[i] + 0.5 * (bounds[i + 1] - bounds[i]);
        const Altitude altitude = track.horizontal(place, middle).true_altitude;
        if (!(bounds[i] < bounds[i + 1]) || altitude < band.low || altitude > band.high) continue;
        const Altitude later = track.horizontal(place, middle + Seconds{1}).true_altitude;
        const Span whole{bounds[i], bounds[i + 1]};
        out.push_back({whole.from, whole.to, later < altitude, {{whole}}, {}, {}});
    }
    return out;
}

void split_by_sun(std::vector<LateLight>& lights, std::span<const DirectSpan> direct) {
    for (LateLight& light : lights) {
        light.stretches.clear();
        Instant told = light.start;
        const auto add = [&](Instant to, bool in_sun) {
            if (told < to) light.stretches.push_back({{told, to}, in_sun});
            told = std::max(told, to);
        };
        for (const DirectSpan& d : direct) {
            if (d.span.from >= light.end) continue;
            add(d.span.from, false);
            add(std::min(d.span.to, light.end), true);
        }
        add(light.end, false);
        note_change(light, direct);
    }
}

std::optional<Instant> sun_until(const LateLight& light) noexcept {
    for (auto s = light.stretches.rbegin(); s != light.stretches.rend(); ++s)
        if (s->in_sun) return s->span.to;
    return std::nullopt;
}

void add_sky(std::vector<LateLight>& lights, const site::Site& site, const SunPath& path) {
    constexpr Seconds ten_minutes{600};
    const light::Air air = air_of(site.air);
    const auto band = [&](Instant t) {
        return light::sky_band(state_at(path, site, t), air).diffuse_horizontal_lx;
    };
    const auto likely = [&](Instant t) {
        return light::clear_sky(state_at(path, site, t), air).diffuse_horizontal_lx;
    };
    for (LateLight& light : lights)
        for (LateStretch& s : light.stretches) {
            if (s.in_sun) continue;
            SkyAlone sky{band(s.span.from), band(s.span.to)};
            sky.first_stops =
                light::stops_between(sky.at_start_lx.likely, likely(s.span.from + ten_minutes));
            sky.last_stops =
                light::stops_between(likely(s.span.to - ten_minutes), sky.at_end_lx.likely);
            s.sky = sky;
        }
}

light::Air air_of(site::AirClass air) noexcept {
    switch (air) {
        case site::AirClass::very_clear:
            return light::very_clear_air;
        case site::AirClass::hazy:
            return light::hazy_air;
        case site::AirClass::normal:
            break;
    }
    return light::normal_air;
}

}  // namespace keyhour::study
