#include <algorithm>
#include <cmath>

#include "key_criterion.hpp"
#include "key_parts.hpp"
#include "keyhour/study/sun_in_room.hpp"
#include "search_times.hpp"

namespace keyhour::study {
namespace {

const room::Patch* on_surface(const std::vector<room::Patch>& patches, room::Surface surface) {
    for (const room::Patch& p : patches)
        if (p.surface == surface) return &p;
    return nullptr;
}

/// How fast the patch on the surface behind the mark travels, at mid-span.
void measure_drift(const RoomStudy& study, KeyInterval& interval) {
    const Instant mid = interval.span->from + 0.5 * interval.span->length();
    constexpr Seconds half_minute{30};
    const room::Point3 now = study.sun(study.path().at(mid));
    interval.behind = study.scene().surface_behind(interval.mark, now);
    const auto early =
        study.scene().patches(interval.window, study.sun(study.path().at(mid - half_minute)));
    const auto late =
        study.scene().patches(interval.window, study.sun(study.path().at(mid + half_minute)));
    const room::Patch* a = on_surface(early, interval.behind);
    const room::Patch* b = on_surface(late, interval.behind);
    if (!a || !b) return;
    const room::Point3 d = b->centroid - a->centroid;
    interval.drift_m_per_min = std::sqrt(dot(d, d));
}

}  // namespace

double unsigned_key_angle(const RoomStudy& study, std::size_t camera, const Moment& m) {
    return std::abs(
        room::key_angle(study.room(), study.room().cameras[camera], study.sun(m)).in_degrees());
}

std::optional<Span> centre_run(const RoomStudy& study, const KeySettings& settings,
                               std::size_t mark, std::optional<std::size_t> camera,
                               std::size_t window, Instant at) {
    const KeyCriterion criterion{study, study.centres(), settings, mark, camera, window};
    const auto margin = [&](const Moment& m) { return criterion(m, study.bearings().stated); };
    if (margin(study.path().at(at)) <= 0) return std::nullopt;
    return run_around(study.path(), at, std::max(study.path().from(), at - one_day),
                      std::min(study.path().to(), at + one_day), margin);
}

void describe(const RoomStudy& study, const KeySettings& settings, KeyInterval& interval) {
    if (!interval.span) return;
    const KeyCriterion criterion{study,         study.scene(),   settings,
                                 interval.mark, interval.camera, interval.window};
    const Span& span = *interval.span;
    const Moment first = study.path().at(span.from), last = study.path().at(span.to);
    interval.begins_by = criterion.limiting_edge(study.path().at(span.from - beside_change),
                                                 study.path().at(span.from + beside_change));
    interval.ends_by = criterion.limiting_edge(study.path().at(span.to + beside_change),
                                               study.path().at(span.to - beside_change));
    interval.altitude_deg[0] = first.altitude_deg;
    interval.altitude_deg[1] = last.altitude_deg;
    if (interval.camera) {
        interval.key_angle_deg[0] = unsigned_key_angle(study, *interval.camera, first);
        interval.key_angle_deg[1] = unsigned_key_angle(study, *interval.camera, last);
        interval.light_from_right =
            room::key_angle(study.room(), study.room().cameras[*interval.camera],
                            study.sun(first)) > Angle{};
    }
    interval.centre = centre_run(study, settings, interval.mark, interval.camera, interval.window,
                                 span.from + 0.5 * span.length());
    interval.to_cover = cover_spans(study, interval.window, interval.mark, std::nullopt,
                                    settings.near_m, span.from, span.to);
    measure_drift(study, interval);
}

}  // namespace keyhour::study
