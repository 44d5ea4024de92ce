#include <algorithm>

#include "plan_sheet.hpp"

namespace keyhour::draw {
namespace {

/// Where the lamp of a planned lock stands; null without a place.
const study::StandPlace* place_of(const study::PlannedLock* planned) {
    return planned && planned->day.lamp ? planned->day.lamp->stand.place() : nullptr;
}

}  // namespace

std::vector<study::CoverNeed> covers_on_plan(const study::DayStrip& strip) {
    return strip.planned ? study::covers_of_lock(strip) : strip.covers;
}

site::Location with_key_lamp(const site::Location& location, const study::DayStrip& strip) {
    site::Location out = location;
    const study::PlannedLock* planned = strip.planned ? &*strip.planned : nullptr;
    const study::StandPlace* place = place_of(planned);
    if (place == nullptr) return out;
    site::Lamp& lamp = out.lamps[planned->question.lamp->lamp];
    lamp.at = room::Point2{place->at.x, place->at.y};
    lamp.height_m = place->height_above_ground_m;
    return out;
}

/// From the lamp past both jambs, as far as the room goes, and the patch on the floor.
void PlanSheet::draw_lamp_key() {
    const study::StandPlace* place = place_of(content_.planned);
    if (place == nullptr) return;
    const room::Window& window = location_.room->windows[content_.planned->question.window];
    const room::WallFrame f = wall_frame(location_.room->floor, window.wall);
    const Point2 lamp{place->at.x, place->at.y};
    for (const double u : {window.left_m, window.left_m + window.width_m}) {
        // The jamb's edge that keeps more of the light out: the outer or the inner one.
        const Point2 inner = f.left_corner + u * f.u;
        const Point2 outer = inner + window.reveal_m * f.n;
        const bool is_left = u == window.left_m;
        const double side = cross(outer - lamp, inner - lamp);
        const Point2 edge = (side > 0) == is_left ? inner : outer;
        const double away = length(edge - lamp);
        if (away < 1e-6) continue;
        const Point2 way = (1 / away) * (edge - lamp);
        const double to_wall = sight(edge + 1e-6 * way, way);
        const Point2 end = edge + to_wall * way;
        svg_.line(at(lamp), at(end), {pen::object, "3 1"});
        labels_.avoid(at(lamp), at(end), 0.6);
    }
    const auto& light = content_.planned->day.lamp->light;
    if (!light) return;
    for (const room::Patch& p : light->patches) {
        if (p.surface.kind != room::Surface::Kind::floor) continue;
        for (const auto& ring : p.outlines) {
            std::vector<Point2> outline;
            for (const room::Point3& q : ring)
                outline.push_back(at(Point2{q.x, q.y}));
            svg_.shape({outline}, {pen::object, "3 1"});
        }
    }
}

}  // namespace keyhour::draw
