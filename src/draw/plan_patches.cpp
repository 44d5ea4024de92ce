#include <algorithm>
#include <cmath>

#include "plan_sheet.hpp"

namespace keyhour::draw {
namespace {

/// A sliver is drawn, but not labelled, m2.
constexpr double kLabelled = 0.05;
constexpr double kArrow = 8, kLeastArrow = 3;  // mm
/// More patches than this on the floor: only the largest of each hour gets an arrow.
constexpr std::size_t kArrows = 6;

std::vector<std::vector<Point2>> flat(const std::vector<std::vector<room::Point3>>& outlines,
                                      double z, const PlanExtent& extent) {
    std::vector<std::vector<Point2>> rings;
    for (const auto& outline : outlines) {
        if (std::any_of(outline.begin(), outline.end(),
                        [&](const room::Point3& p) { return std::abs(p.z - z) > 1e-6; }))
            continue;
        std::vector<Point2>& ring = rings.emplace_back();
        for (const room::Point3& p : outline)
            ring.push_back(extent.at(Point2{p.x, p.y}));
    }
    return rings;
}

bool is_labelled(const study::WindowPatch& p) {
    return p.patch.surface.kind == room::Surface::Kind::floor && p.patch.area_m2 >= kLabelled;
}

}  // namespace

std::size_t PlanSheet::floor_patches() const {
    std::size_t sum = 0;
    for (const HourPatches& hour : hours_)
        sum += static_cast<std::size_t>(std::ranges::count_if(hour.now.patches, is_labelled));
    return sum;
}

/// Of those on the floor.
bool PlanSheet::is_largest(const HourPatches& hour, const study::WindowPatch& p) const {
    return std::ranges::none_of(hour.now.patches, [&](const study::WindowPatch& other) {
        return is_labelled(other) && other.patch.area_m2 > p.patch.area_m2;
    });
}

void PlanSheet::draw_patches(const HourPatches& hour) {
    const room::Room& room = *location_.room;
    for (const study::WindowPatch& p : hour.now.patches) {
        const room::Surface& surface = p.patch.surface;
        if (surface.kind == room::Surface::Kind::wall) {
            draw_wall_patch(hour, p);
            continue;
        }
        const bool on_floor = surface.kind == room::Surface::Kind::floor;
        const auto rings =
            flat(p.patch.outlines, on_floor ? 0 : room.objects[surface.index].height_m, extent_);
        svg_.shape(rings, {pen::object, "", hour.hatch});
        for (const auto& ring : rings)
            labels_.shade(ring);
        if (!on_floor || rings.empty() || p.patch.area_m2 < kLabelled) continue;
        const Point2 middle = at({p.patch.centroid.x, p.patch.centroid.y});
        TextStyle style{letters::usual};
        style.bold = style.halo = true;
        Labels::Wish wish{middle, 1.5, style, false, 14, false};
        wish.same_side = true;
        hour_labels_.push_back({{hour.label}, wish, false, is_largest(hour, p)});
    }
}

/// Along the wall's inner face; where hours overlap, each has a lane of its own.
void PlanSheet::draw_wall_patch(const HourPatches& hour, const study::WindowPatch& p) {
    const std::size_t wall = p.patch.surface.index;
    const room::WallFrame f = wall_frame(location_.room->floor, wall);
    double from = 1e300, to = -1e300;
    for (const auto& ring : p.patch.outlines)
        for (const room::Point3& q : ring) {
            const double u = dot(Point2{q.x, q.y} - f.left_corner, f.u);
            from = std::min(from, u);
            to = std::max(to, u);
        }
    std::size_t lane = 0;
    for (bool moved = true; moved;) {
        moved = false;
        for (const WallBar& bar : bars_)
            if (bar.wall == wall && bar.lane == lane && bar.from < to && from < bar.to) {
                ++lane;
                moved = true;
            }
    }
    bars_.push_back({wall, lane, from, to});
    const double near = (0.6 + 2.1 * static_cast<double>(lane)) / k(), deep = near + 1.8 / k();
    const auto point = [&](double u, double w) { return at(f.left_corner + u * f.u + (-w) * f.n); };
    const std::vector<std::vector<Point2>> bar{
        {point(from, near), point(to, near), point(to, deep), point(from, deep)}};
    svg_.shape(bar, {pen::thin, "", "#fff", false});  // over patches on the floor
    svg_.shape(bar, {pen::thin, "", hour.hatch});
    TextStyle style{letters::small};
    style.halo = true;
    const double middle = (from + to) / 2;
    // One that goes on from the floor has its label there.
    if (std::ranges::any_of(hour.now.patches, [&](const study::WindowPatch& other) {
            return is_labelled(other) && other.window == p.window;
        }))
        return;
    Labels::Wish wish{point(middle, deep), 0.8, style, false, 8, false};
    wish.same_side = true;
    hour_labels_.push_back({{hour.label}, wish, false, false});
}

void PlanSheet::draw_travel(const HourPatches& hour, const study::WindowPatch& p) {
    if (!is_labelled(p)) return;
    if ((narrow() || floor_patches() > kArrows) && !is_largest(hour, p)) return;
    for (const study::WindowPatch& next : hour.later.patches) {
        if (next.window != p.window || !(next.patch.surface == p.patch.surface)) continue;
        const Point2 from{p.patch.centroid.x, p.patch.centroid.y};
        const Point2 way = Point2{next.patch.centroid.x, next.patch.centroid.y} - from;
        if (length(way) < 0.005) continue;
        // Not through a wall.
        const double room_mm = 0.85 * k() * sight(from, (1 / length(way)) * way);
        const double run =
            std::min(narrow() ? kArrow * 0.6 : kArrow, std::max(room_mm, kLeastArrow));
        const Point2 u{way.x / length(way), -way.y / length(way)};
        const Point2 start = at(from) - std::max(0.0, run - room_mm) * u;
        svg_.circle(start, 0.55, {pen::thin, "", "#000"});
        svg_.arrow(start, start + run * u, {pen::object}, 2.4);
        labels_.avoid(start, start + run * u, 4);
    }
}

}  // namespace keyhour::draw
