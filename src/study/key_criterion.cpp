#include "key_criterion.hpp"

#include <algorithm>
#include <cmath>

namespace keyhour::study {

KeyCriterion::KeyCriterion(const RoomStudy& study, const room::Scene& scene,
                           const KeySettings& settings, std::size_t mark,
                           std::optional<std::size_t> camera, std::size_t window)
    : study_{study},
      scene_{scene},
      settings_{settings},
      mark_{mark},
      camera_{camera ? &study.room().cameras[*camera] : nullptr},
      window_{window},
      reach_m_{room::half_size(scene.room().marks[mark])} {}

double KeyCriterion::operator()(const Moment& m, const room::PlanTurn& turn) const {
    const room::Scene& scene = scene_;
    double margin = std::min({m.above_skyline_deg, m.altitude_deg - settings_.altitude_deg[0],
                              settings_.altitude_deg[1] - m.altitude_deg}) /
                    10;
    if (m.altitude_deg <= 0) return margin + hopeless;
    const room::Point3 sun = turn.to_plan(m.toward);
    const double front = scene.in_front(window_, sun);
    if (front <= 0) return front + hopeless;
    // A silhouette seen aslant is longer in the wall's plane, by 1 / sine of the slant.
    const double outside = scene.centre_margin(mark_, window_, sun) + reach_m_ / front;
    if (outside < 0) return outside - settings_.coverage;
    if (camera_) {
        const double angle = std::abs(room::key_angle(study_.room(), *camera_, sun).in_degrees());
        margin = std::min(
            margin,
            std::min(angle - settings_.key_angle_deg[0], settings_.key_angle_deg[1] - angle) / 10);
    }
    if (margin <= 0) return margin;
    if (camera_ && room::in_frame(study_.room(), *camera_, sun)) return -1;
    constexpr double equal = 1e-9;  // 95 % is enough, and so is the whole when 100 % are asked for
    margin = std::min(margin, scene.coverage(mark_, window_, sun) - settings_.coverage + equal);
    if (margin > 0 && settings_.as_is && troubling(sun)) return -1;
    return margin;
}

std::optional<std::size_t> KeyCriterion::troubling(room::Point3 sun) const {
    // A plan whose +y axis points north, under a level skyline: only the direction counts.
    static const room::PlanTurn as_drawn{Azimuth{}};
    Moment m;
    m.toward = {sun.x, sun.y, sun.z};
    m.altitude_deg = m.above_skyline_deg = 90;
    for (std::size_t w = 0; w < study_.room().windows.size(); ++w)
        if (w != window_ && lets_sun_in(study_.room().windows[w]) &&
            troubles(study_, w, mark_, std::nullopt, settings_.near_m, m, as_drawn))
            return w;
    return std::nullopt;
}

room::LimitingEdge KeyCriterion::limiting_edge(const Moment& out, const Moment& in) const {
    using room::Edge;
    const room::Scene& scene = scene_;
    const room::Point3 sun = study_.sun(out);
    if (out.above_skyline_deg <= 0) return {Edge::horizon, 0};
    if (out.altitude_deg < settings_.altitude_deg[0] ||
        out.altitude_deg > settings_.altitude_deg[1])
        return {Edge::altitude, 0};
    if (scene.coverage(mark_, window_, sun) < settings_.coverage)
        return grown_most(scene.losses(mark_, window_, sun),
                          scene.losses(mark_, window_, study_.sun(in)));
    if (camera_) {
        const double angle = std::abs(room::key_angle(study_.room(), *camera_, sun).in_degrees());
        if (angle < settings_.key_angle_deg[0] || angle > settings_.key_angle_deg[1])
            return {Edge::key_angle, 0};
        if (room::in_frame(study_.room(), *camera_, sun)) return {Edge::frame, 0};
    }
    if (settings_.as_is)
        if (const auto w = troubling(sun)) return {Edge::cover, *w};
    return {};
}

}  // namespace keyhour::study
