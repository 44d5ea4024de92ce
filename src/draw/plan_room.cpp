#include <algorithm>
#include <utility>

#include "plan_sheet.hpp"

namespace keyhour::draw {

void PlanSheet::draw_room() {
    const room::Room& room = *location_.room;
    svg_.shape({extent_.at(outer_faces(room))}, {pen::thin, "", "#fff", false});
    for (const room::Object& o : room.objects) {
        svg_.shape({extent_.at(o.footprint)}, {pen::object});
        labels_.forbid(extent_.at(o.footprint));
    }
    svg_.begin_group("patches");
    for (const HourPatches& hour : hours_)
        draw_patches(hour);
    svg_.end_group();
    svg_.begin_group("now");
    svg_.end_group();
    draw_walls();
    for (const room::Window& w : room.windows)
        draw_opening(w);
    for (const study::CoverNeed& c : content_.covers)
        draw_cover(room.windows[c.window]);
    for (const HourPatches& hour : hours_)
        for (const study::WindowPatch& p : hour.now.patches)
            draw_travel(hour, p);
    draw_fields();
    draw_lamp_key();
}

/// The faces of each wall, broken where openings are, and the jambs.
void PlanSheet::draw_walls() {
    const room::Room& room = *location_.room;
    const room::Ring outer = outer_faces(room);
    const std::size_t n = room.floor.size();
    for (std::size_t wall = 0; wall < n; ++wall) {
        const room::WallFrame f = wall_frame(room.floor, wall);
        const double t = wall_thickness(room, wall);
        std::vector<std::pair<double, double>> gaps;
        for (const room::Window& w : room.windows)
            if (w.wall == wall) gaps.emplace_back(w.left_m, w.left_m + w.width_m);
        std::ranges::sort(gaps);
        const auto along = [&](Point2 p) { return dot(p - f.left_corner, f.u); };
        const auto face = [&](double from, double to, double out) {
            const auto point = [&](double u) { return at(f.left_corner + u * f.u + out * f.n); };
            for (const auto& [left, right] : gaps) {
                if (left > from) svg_.line(point(from), point(left), {pen::wall});
                from = std::max(from, right);
            }
            if (to > from) svg_.line(point(from), point(to), {pen::wall});
        };
        // Half a line longer, so that two of them make a whole corner.
        const double half = pen::wall / 2 / k();
        face(-half, f.width_m + half, 0);
        const double a = along(outer[wall]), b = along(outer[(wall + 1) % n]);
        face(std::min(a, b) - half, std::max(a, b) + half, t);
        for (const auto& [left, right] : gaps)
            for (const double u : {left, right})
                svg_.line(at(f.left_corner + u * f.u), at(f.left_corner + u * f.u + t * f.n),
                          {pen::wall});
    }
    labels_.forbid(extent_.at(room.floor));
    labels_.forbid(extent_.at(outer));
    // A middle line, so that no word fits into a thick wall.
    for (std::size_t i = 0; i < n; ++i)
        labels_.forbid(at(0.5 * (room.floor[i] + outer[i])),
                       at(0.5 * (room.floor[(i + 1) % n] + outer[(i + 1) % n])));
}

/// Sill lines at both faces, the glass, its bars, and what hangs in it.
void PlanSheet::draw_opening(const room::Window& window) {
    const room::WallFrame f = wall_frame(location_.room->floor, window.wall);
    const auto point = [&](double u, double w) { return at(f.left_corner + u * f.u + w * f.n); };
    const double left = window.left_m, right = left + window.width_m;
    const double thick = wall_thickness(*location_.room, window.wall);
    for (const double w : {0.0, thick})
        svg_.line(point(left, w), point(right, w), {pen::fine});
    const double glass = window.reveal_m - window.bars.set_back_m;
    if (window.glass != room::Glass::none) {
        svg_.line(point(left, glass - 0.25 / k()), point(right, glass - 0.25 / k()), {pen::thin});
        svg_.line(point(left, glass + 0.25 / k()), point(right, glass + 0.25 / k()), {pen::thin});
    }
    for (int i = 1; i <= window.bars.upright; ++i) {
        const double pane = (window.width_m - window.bars.upright * window.bars.width_m) /
                            (window.bars.upright + 1);
        const double u = left + i * pane + (i - 0.5) * window.bars.width_m;
        svg_.line(point(u, glass - 0.8 / k()), point(u, glass + 0.8 / k()),
                  {std::max(pen::opening, window.bars.width_m * k())});
    }
    if (window.cover == room::Cover::sheer)
        svg_.line(point(left, 0.06), point(right, 0.06), {pen::opening, "0.6 0.6"});
    if (window.cover == room::Cover::blackout)
        svg_.line(point(left, 0.06), point(right, 0.06), {1.1});
}

void PlanSheet::draw_cover(const room::Window& window) {
    const room::WallFrame f = wall_frame(location_.room->floor, window.wall);
    const auto point = [&](double u) { return at(f.left_corner + u * f.u + (-1.1 / k()) * f.n); };
    svg_.line(point(window.left_m), point(window.left_m + window.width_m), {1.3, "3 0.8"});
}

}  // namespace keyhour::draw
