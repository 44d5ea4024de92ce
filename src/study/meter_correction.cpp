#include "keyhour/study/meter_correction.hpp"

#include <algorithm>
#include <cmath>

#include "keyhour/study/forge_light.hpp"
#include "keyhour/study/mark_light.hpp"
#include "keyhour/study/spot_light.hpp"

namespace keyhour::study {

namespace {

using site::MeterReading;
using Corrected = MeterVerdict::Of;

constexpr double least_glass = 0.6, most_glass = 1.1, least_fill = 0.5, most_fill = 2;
constexpr double sigma_glass_stops = 0.25, sigma_told_air_stops = 0.15, least_air_stops = 0.1;
constexpr Seconds one_sitting{1800};

std::shared_ptr<const SharedTrack> track_about(Instant t) {
    return SharedTrack::make(t - Seconds{3600}, t + Seconds{3600});
}

/// Level ground in the open.
light::Band expected_outside(const site::Location& location, const MeterReading& r) {
    const site::Site& site = location.site;
    const SunPath path{site, track_about(r.at)};
    const sun::Position p = path.position(r.at);
    const light::SkyState state{p.apparent_altitude, p.true_altitude, site.observer.elevation_m,
                                p.distance_au};
    const light::SkyBand sky =
        light::cloud_band(light::sky_band(state, air_of(site.air)), state, r.sky);
    const bool hidden = path.at(r.at).above_skyline_deg <= 0;
    return hidden ? sky.diffuse_horizontal_lx : sky.global_horizontal_lx;
}

/// Where a reading was taken, in the room as the file has it.
MarkLight expected_inside(const site::Location& as_read, const MeterReading& r) {
    site::Location location = as_read;
    location.found = {};  // as without any reading
    room::Mark mark;
    mark.at = {r.inside_at->x, r.inside_at->y};
    mark.height_m = r.inside_at->z;
    mark.radius_m = 0.02;
    location.room->marks = {mark};
    location.room->cameras.clear();
    const RoomStudy study{location, track_about(r.at)};
    const RoomLight light{study};
    const LightCase cases[] = {{r.sky}};
    MarkLight m =
        std::move(light.at_marks(light.sun(study.path().at(r.at)), cases).front().in_cases[0]);
    // Forges burnt then as they do in the file.
    const auto forges = forge_light(*location.room, as_read.found.forges, 0);
    const double lx = at_mark_lx(forges) + given_back_lx(forges);
    m.fill_lx = {m.fill_lx.low + lx, m.fill_lx.likely + lx, m.fill_lx.high + lx};
    return m;
}

double half_spread_stops(const light::Band& b) {
    return std::log2(b.high / b.low) / 4;
}

/// The air's own factor, where somebody read it outside at that time.
std::optional<double> told_air(const MeterCorrection& so_far, const MeterReading& r) {
    for (const MeterVerdict& v : so_far.verdicts) {
        const Seconds apart = v.reading.at - r.at;
        if (v.of == Corrected::outside && v.reading.sky == r.sky && apart <= one_sitting &&
            -apart <= one_sitting)
            return std::exp2(v.stops);
    }
    return std::nullopt;
}

MeterVerdict outside_verdict(const site::Location& location, const MeterReading& r) {
    MeterVerdict v{.reading = r, .expected_lx = expected_outside(location, r)};
    v.stops = std::log2(r.lx / v.expected_lx.likely);
    if (r.lx >= v.expected_lx.low / 1.25 && r.lx <= v.expected_lx.high * 1.25)
        v.of = Corrected::outside;
    return v;
}

/// What the figure at stake adds to a reading: the reading over airs, and its likely level again
/// with the figure at its least and most.
struct AtStake {
    Corrected of;
    double least_lx, most_lx;  ///< beside likely
    double sigma_stops;
};

AtStake at_stake(const MarkLight& m) {
    const double total = m.with_key_lx(), back = m.given_back_lx.likely;
    const bool sunlit = std::ranges::any_of(
        m.windows, [](const WindowLight& w) { return w.direct_lx > 0.5 * w.total_lx(); });
    if (sunlit)
        return {Corrected::glass, least_glass * total, most_glass * total, sigma_glass_stops};
    const double least = total - (1 - least_fill) * back, most = total + (most_fill - 1) * back;
    return {Corrected::fill, least, most, std::log2(most / least) / 4};
}

MeterVerdict inside_verdict(const site::Location& location, const MeterCorrection& so_far,
                            const MeterReading& r) {
    const MarkLight m = expected_inside(location, r);
    MeterVerdict v{.reading = r, .expected_lx = m.metered_lx()};
    const double likely = v.expected_lx.likely;
    v.stops = std::log2(r.lx / likely);
    if (m.given_back_lx.likely <= 0) return v;
    const AtStake stake = at_stake(m);
    const auto air = told_air(so_far, r);
    constexpr double half_a_stop = 1.41421356237;
    const light::Band airs =
        air ? light::Band{likely * *air / half_a_stop, likely * *air, likely * *air * half_a_stop}
            : v.expected_lx;
    if (r.lx < airs.low * stake.least_lx / likely || r.lx > airs.high * stake.most_lx / likely)
        return v;
    const double sigma_air =
        air ? sigma_told_air_stops : std::max(least_air_stops, half_spread_stops(airs));
    const double weight = 1 / (1 + std::pow(sigma_air / stake.sigma_stops, 2));
    const double moved = std::exp2(weight * std::log2(r.lx / airs.likely));
    v.of = stake.of;
    v.factor =
        v.of == Corrected::glass
            ? std::clamp(moved, least_glass, most_glass)
            : std::clamp(1 + likely * (moved - 1) / m.given_back_lx.likely, least_fill, most_fill);
    return v;
}

/// Geometric mean of what the readings say of one figure.
double mean_factor(const std::vector<MeterVerdict>& verdicts, Corrected of) {
    double sum = 0;
    int n = 0;
    for (const MeterVerdict& v : verdicts)
        if (v.of == of) {
            sum += std::log2(v.factor);
            ++n;
        }
    return n == 0 ? 1 : std::exp2(sum / n);
}

}  // namespace

MeterCorrection meter_correction(const site::Location& location) {
    MeterCorrection out;
    // What was read outside tells the air to those inside.
    for (const bool inside : {false, true})
        for (const MeterReading& r : location.found.readings)
            if (r.inside_at.has_value() == inside)
                out.verdicts.push_back(inside ? inside_verdict(location, out, r)
                                              : outside_verdict(location, r));
    out.glass = mean_factor(out.verdicts, Corrected::glass);
    out.fill = mean_factor(out.verdicts, Corrected::fill);
    return out;
}

}  // namespace keyhour::study
