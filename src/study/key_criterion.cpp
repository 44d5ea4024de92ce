#include "key_criterion.hpp"

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

namespace {

/// A camera of a room, as key_margin asks it.
struct CameraInRoom {
    const room::Room& room;
    const room::Camera& camera;
    [[nodiscard]] Angle key_angle(room::Point3 sun) const {
        return room::key_angle(room, camera, sun);
    }
    [[nodiscard]] bool has_in_frame(room::Point3 sun) const {
        return room::in_frame(room, camera, sun);
    }
};

}  // namespace

double KeyCriterion::operator()(const Moment& m, const room::PlanTurn& turn) const {
    const KeyLimits limits{settings_.coverage,
                           {settings_.key_angle_deg[0], settings_.key_angle_deg[1]},
                           {settings_.altitude_deg[0], settings_.altitude_deg[1]}};
    const SunOverPlan sun{m.altitude_deg, m.above_skyline_deg, turn.to_plan(m.toward)};
    const auto margin_for = [&](const CameraInRoom* camera) {
        return key_margin(scene_, mark_, window_, reach_m_, limits, sun, camera);
    };
    if (!camera_) return besides_others(margin_for(nullptr), sun);
    const CameraInRoom camera{study_.room(), *camera_};
    return besides_others(margin_for(&camera), sun);
}

double KeyCriterion::besides_others(double margin, const SunOverPlan& sun) const {
    return margin > 0 && settings_.as_is && troubling(sun.toward) ? -1 : margin;
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
