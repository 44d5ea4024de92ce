#include "keyhour/study/spot_lamps.hpp"

#include <algorithm>
#include <cmath>

#include "keyhour/site/plan_frame.hpp"
#include "keyhour/study/lamp_output.hpp"

namespace keyhour::study {
namespace {

using room::Point2;
using room::Point3;

/// Does a straight line pass through a prism that stands on the ground? Heights above the ground.
bool passes_through(Point3 a, Point3 b, const room::Ring& footprint, double top_m) {
    if (footprint.size() < 3) return false;
    // The stretch of the line below the top.
    double from = 0, to = 1;
    const double rise = b.z - a.z;
    if (a.z >= top_m && b.z >= top_m) return false;
    if (a.z > top_m) from = (top_m - a.z) / rise;
    if (b.z > top_m) to = (top_m - a.z) / rise;
    const Point2 p{a.x + from * (b.x - a.x), a.y + from * (b.y - a.y)};
    const Point2 q{a.x + to * (b.x - a.x), a.y + to * (b.y - a.y)};
    if (room::contains(footprint, p) || room::contains(footprint, q)) return true;
    for (std::size_t i = 0; i < footprint.size(); ++i) {
        const Point2 c = footprint[i], d = footprint[(i + 1) % footprint.size()];
        if (cross(q - p, c - p) * cross(q - p, d - p) < 0 &&
            cross(d - c, p - c) * cross(d - c, q - c) < 0)
            return true;
    }
    return false;
}

std::string what_stands_between(const site::Location& location, Point3 lamp, Point3 target) {
    for (const room::Building& b : site::buildings(location))
        if (b.kind == room::Building::Kind::building &&
            passes_through(target, lamp, b.footprint, b.height_m))
            return room::words(b);
    if (location.room) {
        const room::Room& room = *location.room;
        if (passes_through(target, lamp, room.floor, room.height_m + room.floor_above_ground_m))
            return "own walls outside";
    }
    return {};
}

}  // namespace

std::vector<LampAtSpot> lamps_at(const site::Location& location, const site::Spot& spot) {
    std::vector<LampAtSpot> out;
    const Point2 at = site::on_plan(location, spot);
    const Point3 ground{at.x, at.y, 0}, eye{at.x, at.y, spot.eye_m};
    for (std::size_t i = 0; i < location.lamps.size(); ++i) {
        const site::Lamp& lamp = location.lamps[i];
        if (lamp.place != site::Lamp::Place::outside || !lamp.at || !lamp.height_m ||
            lamp.stand_max_m)
            continue;
        const Point3 head{lamp.at->x, lamp.at->y, *lamp.height_m};
        const LampOutput output{lamp};
        LampAtSpot here;
        here.lamp = i;
        here.along_ground_m = length(*lamp.at - at);
        here.blocked_by = what_stands_between(location, head, eye);
        if (here.blocked_by.empty()) here.eye_lx = output.level_lx(hung(head), eye);
        if (what_stands_between(location, head, ground).empty())
            here.ground_lx = output.level_lx(hung(head), ground,
                                             head.z / std::hypot(here.along_ground_m, head.z));
        out.push_back(std::move(here));
    }
    return out;
}

double ground_lx(const std::vector<LampAtSpot>& lamps) {
    double sum = 0;
    for (const LampAtSpot& lamp : lamps)
        sum += lamp.ground_lx;
    return sum;
}

}  // namespace keyhour::study
