#pragma once
/// @file
/// How far from a clean key: the conditions that one window, mark and camera can judge by
/// themselves. Takes no memory, so that a small board asks the same.

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "keyhour/room/plan.hpp"
#include "keyhour/study/span_search.hpp"

namespace keyhour::study {

/// Of these settings a margin is made.
struct KeyLimits {
    double coverage;
    double key_angle_deg[2];
    double altitude_deg[2];
};

/// The sun over a site, and over the plan.
struct SunOverPlan {
    double altitude_deg, above_skyline_deg;  ///< apparent
    room::Point3 toward;                     ///< unit vector in plan axes
};

/// Positive where the key is clean. Margins are of order one; angles count a tenth a degree.
/// @param scene    asked for in_front, centre_margin and coverage
/// @param reach_m  beyond this outside the opening the mark has no light at all
/// @param camera   asked for key_angle and has_in_frame; null: neither is judged
template <class Scene, class Camera>
[[nodiscard]] double key_margin(const Scene& scene, std::size_t mark, std::size_t window,
                                double reach_m, const KeyLimits& limits, const SunOverPlan& sun,
                                const Camera* camera) {
    double margin = std::min({sun.above_skyline_deg, sun.altitude_deg - limits.altitude_deg[0],
                              limits.altitude_deg[1] - sun.altitude_deg}) /
                    10;
    if (sun.altitude_deg <= 0) return margin + hopeless;
    const double front = scene.in_front(window, sun.toward);
    if (front <= 0) return front + hopeless;
    // A silhouette seen aslant is longer in the wall's plane, by 1 / sine of the slant.
    const double outside = scene.centre_margin(mark, window, sun.toward) + reach_m / front;
    if (outside < 0) return outside - limits.coverage;
    if (camera) {
        const double angle = std::abs(camera->key_angle(sun.toward).in_degrees());
        margin = std::min(
            margin,
            std::min(angle - limits.key_angle_deg[0], limits.key_angle_deg[1] - angle) / 10);
    }
    if (margin <= 0) return margin;
    if (camera && camera->has_in_frame(sun.toward)) return -1;
    constexpr double equal = 1e-9;  // 95 % is enough, and so is the whole when 100 % are asked for
    return std::min(margin, scene.coverage(mark, window, sun.toward) - limits.coverage + equal);
}

}  // namespace keyhour::study
