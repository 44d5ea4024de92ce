#include "day_keys.hpp"

#include <algorithm>
#include <cmath>

#include "../site/skyline_of.hpp"

namespace keyhour::c {

study::SunOverPlan SmallPath::at(Instant t, const SmallRoom& room) const noexcept {
    constexpr double degrees_per_radian = 180 / std::numbers::pi;
    const LevelVector toward = place.direction(track.vector(t), true);
    const double altitude_deg =
        std::asin(std::clamp<double>(toward.up, -1, 1)) * degrees_per_radian;
    double above_skyline_deg = altitude_deg;
    if (!skyline.empty() && altitude_deg > 0) {
        const Angle azimuth = wrapped_turn(Angle::radians(std::atan2(toward.east, toward.north)));
        above_skyline_deg -=
            std::max<double>(0, site::skyline_of(skyline, {azimuth}).above_horizon.in_degrees());
    }
    return {altitude_deg, above_skyline_deg, room.to_plan(toward)};
}

void find_keys(const SmallRoom& room, const SmallScene& scene, const SmallPath& path,
               const study::KeyLimits& limits, std::size_t mark, const SmallCamera* camera,
               std::size_t window, ArenaList<study::Span>& out) noexcept {
    constexpr Seconds step{60};
    const Instant from = path.track.from(), to = path.track.to();
    const auto count = static_cast<std::size_t>(std::ceil((to - from) / step)) + 1;
    const auto instant = [&](std::size_t i) {
        return std::min(from + static_cast<double>(i) * step, to);
    };
    const auto at = [&](Instant t) {
        return key_margin(scene, mark, window, room.marks()[mark].half_size_m, limits,
                          path.at(t, room), camera);
    };
    search_spans(
        count, instant, [&](std::size_t i) { return at(instant(i)); }, at,
        study::boundary_tolerance, out);
}

}  // namespace keyhour::c
