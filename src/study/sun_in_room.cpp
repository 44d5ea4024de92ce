#include "keyhour/study/sun_in_room.hpp"

#include <algorithm>
#include <cmath>

namespace keyhour::study {
namespace {

/// A sliver of sun below 1 cm2 of opening is none.
constexpr double least_open_m2 = room::smallest_patch_m2;
/// Another window's sun that lasts shorter than this may be passed over.
constexpr Seconds cover_step{120};
/// Covers are hung by the minute.
constexpr Seconds cover_tolerance{0.5};

/// Shorter is what a boundary, known to its tolerance, leaves on its wrong side.
constexpr Seconds least_trouble{2};

}  // namespace

bool lets_sun_in(const room::Window& window) noexcept {
    return window.cover == room::Cover::open;
}

double sun_in_margin(const RoomStudy& study, std::size_t window, const Moment& m,
                     const room::PlanTurn& turn) {
    if (m.above_skyline_deg <= 0) return std::max(m.above_skyline_deg, -1.0);
    const room::Point3 sun = turn.to_plan(m.toward);
    const double front = study.scene().in_front(window, sun);
    if (front <= 0) return front;
    return std::min(m.above_skyline_deg, study.scene().open_area(window, sun) - least_open_m2);
}

Seconds sun_in_step(const RoomStudy& study, std::size_t window) noexcept {
    return study.scene().has_outside(window) ? Seconds{30} : Seconds{120};
}

std::vector<Span> sun_spans(const RoomStudy& study, std::size_t window, Instant from, Instant to) {
    const auto samples = study.path().samples(from, to, sun_in_step(study, window));
    return find_spans(study.path(), samples, [&](const Moment& m) {
        return sun_in_margin(study, window, m, study.bearings().stated);
    });
}

Seconds sun_time(const RoomStudy& study, std::size_t window, Instant from, Instant to) {
    Seconds sum{0};
    for (const Span& span : sun_spans(study, window, from, to))
        sum += span.length();
    return sum;
}

bool troubles(const RoomStudy& study, std::size_t window, std::size_t mark,
              std::optional<std::size_t> camera, double near_m, const Moment& m,
              const room::PlanTurn& turn) {
    if (m.above_skyline_deg <= 0) return false;
    const room::Point3 sun = turn.to_plan(m.toward);
    const room::Scene& scene = study.scene();
    const double front = scene.in_front(window, sun);
    if (front <= 0) return false;
    // Projected along the ray into the wall's plane, a distance grows at most by 1 / front.
    const double reach_m = std::max(near_m, room::half_size(study.room().marks[mark]));
    if (!camera && -scene.centre_margin(mark, window, sun) > reach_m / front) return false;
    if (scene.open_area(window, sun) <= least_open_m2) return false;
    if (scene.coverage(mark, window, sun) > 0) return true;
    const room::Mark& at = study.room().marks[mark];
    const room::Point3 centre{at.at.x, at.at.y, at.height_m};
    if (scene.lands_within(window, sun, centre, near_m)) return true;
    if (!camera) return false;
    for (const room::Patch& patch : scene.patches(window, sun))
        if (room::in_frame(study.room(), study.room().cameras[*camera], patch)) return true;
    return false;
}

std::vector<CoverSpan> cover_spans(const RoomStudy& study, std::size_t key_window, std::size_t mark,
                                   std::optional<std::size_t> camera, double near_m, Instant from,
                                   Instant to) {
    std::vector<CoverSpan> out;
    const double steps = std::clamp((to - from) / cover_step, 4.0, 4000.0);
    const auto samples = study.path().samples(from, to, (to - from) / steps);
    for (std::size_t w = 0; w < study.room().windows.size(); ++w) {
        if (w == key_window || !lets_sun_in(study.room().windows[w])) continue;
        const auto troubling = [&](const Moment& m) {
            return troubles(study, w, mark, camera, near_m, m, study.bearings().stated) ? 1.0
                                                                                        : -1.0;
        };
        const auto spans = find_spans(study.path(), samples, troubling, cover_tolerance);
        for (const Span& s : spans)
            if (s.length() > least_trouble) out.push_back({w, s.from, s.to});
    }
    return out;
}

room::LimitingEdge grown_most(const std::vector<room::Loss>& without,
                              const std::vector<room::Loss>& with) {
    room::LimitingEdge edge;
    double most = 0;
    for (const room::Loss& loss : without) {
        double growth = loss.fraction;
        for (const room::Loss& earlier : with)
            if (earlier.edge == loss.edge) growth -= earlier.fraction;
        if (growth > most) {
            most = growth;
            edge = loss.edge;
        }
    }
    return edge;
}

room::LimitingEdge sun_in_edge(const RoomStudy& study, std::size_t window, Instant without,
                               Instant with) {
    const Moment out = study.path().at(without), in = study.path().at(with);
    if (out.above_skyline_deg <= 0) return {room::Edge::horizon, 0};
    return grown_most(study.scene().opening_losses(window, study.sun(out)),
                      study.scene().opening_losses(window, study.sun(in)));
}

}  // namespace keyhour::study
