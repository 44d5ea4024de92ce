#include "way_between.hpp"

#include <cmath>
#include <vector>

#include "room/vectors.hpp"

namespace keyhour::study {

using room::Point2;
using room::Point3;

std::optional<room::LimitingEdge> what_stands_between(const room::Room& room, Point3 a, Point3 b) {
    const Point2 from{a.x, a.y}, to{b.x, b.y};
    const auto crossing = [&](Point2 c, Point2 d) -> std::optional<double> {
        const Point2 way = to - from, side = d - c;
        const double det = cross(way, side);
        if (std::abs(det) < 1e-12) return std::nullopt;
        const double t = cross(c - from, side) / det, s = cross(c - from, way) / det;
        if (t <= 1e-9 || t >= 1 - 1e-9 || s < 0 || s > 1) return std::nullopt;
        return t;
    };
    for (std::size_t i = 0; i < room.floor.size(); ++i)
        if (crossing(room.floor[i], room.floor[(i + 1) % room.floor.size()]))
            return room::LimitingEdge{room::Edge::wall, i};
    for (std::size_t k = 0; k < room.objects.size(); ++k) {
        const room::Object& o = room.objects[k];
        std::vector<double> cuts;
        for (std::size_t i = 0; i < o.footprint.size(); ++i)
            if (const auto t = crossing(o.footprint[i], o.footprint[(i + 1) % o.footprint.size()]))
                cuts.push_back(*t);
        // Over a convex stretch of it the way is lowest at one end.
        for (const double t : cuts)
            if (a.z + t * (b.z - a.z) < o.height_m)
                return room::LimitingEdge{room::Edge::object, k};
    }
    return std::nullopt;
}

}  // namespace keyhour::study
