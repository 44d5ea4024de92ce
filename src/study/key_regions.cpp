#include "key_regions.hpp"

#include <algorithm>

#include "key_criterion.hpp"
#include "key_parts.hpp"
#include "radians.hpp"

namespace keyhour::study {
namespace {

/// The directions over the plan that one mark, camera and window may be lit from.
room::RegionRequest request_for(const RoomStudy& study, const KeySettings& settings,
                                const KeyInterval& who, const room::RegionBounds& bounds) {
    room::RegionRequest request;
    request.mark = who.mark;
    request.window = who.window;
    request.coverage = settings.coverage;
    if (who.camera) request.camera = &study.room().cameras[*who.camera];
    request.key_angle_deg[0] = settings.key_angle_deg[0];
    request.key_angle_deg[1] = settings.key_angle_deg[1];
    request.bounds = bounds;
    return request;
}

}  // namespace

std::vector<KeySpans> key_spans(const RoomStudy& study, Instant first, Instant last,
                                const KeySettings& settings,
                                const std::function<bool(const KeyInterval& who)>& only) {
    RegionSpans regions{study, first, last, std::max(0.0, settings.altitude_deg[0]) * degree,
                        settings.altitude_deg[1] * degree};
    std::vector<std::pair<KeyInterval, std::size_t>> found;
    for_each_wanted(study, settings, [&](std::size_t mark, auto camera, std::size_t window) {
        if (!lets_sun_in(study.room().windows[window])) return;
        KeyInterval who;
        who.mark = mark;
        who.camera = camera;
        who.window = window;
        if (only && !only(who)) return;
        room::RegionRequest request = request_for(study, settings, who, regions.bounds());
        const KeyCriterion criterion{study, study.scene(), settings, mark, camera, window};
        if (settings.as_is)
            request.spoils = [&](room::Point3 sun) { return criterion.troubling(sun).has_value(); };
        const auto rings = room::covered_region(study.scene(), request);
        if (!rings.empty()) found.emplace_back(who, regions.add(rings));
    });
    regions.cut();
    std::vector<KeySpans> out;
    for (const auto& [who, region] : found) {
        const KeyCriterion criterion{study,    study.scene(), settings,
                                     who.mark, who.camera,    who.window};
        out.push_back({who, regions.spans(region, std::cref(criterion))});
    }
    return out;
}

}  // namespace keyhour::study
