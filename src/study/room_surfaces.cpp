#include "room_surfaces.hpp"

#include <algorithm>
#include <cmath>

namespace keyhour::study {

using room::Point2;
using room::Point3;

namespace {

double wall_width(const room::Room& room, std::size_t wall) {
    return length(room.floor[(wall + 1) % room.floor.size()] - room.floor[wall]);
}

}  // namespace

double reflectance_of(const room::Surface& surface, const room::Reflectance& r) noexcept {
    return surface.kind == room::Surface::Kind::wall ? r.walls : r.floor;
}

light::Panes panes_of(const room::Window& window) noexcept {
    switch (window.glass) {
        case room::Glass::none:
            return light::Panes::none;
        case room::Glass::single_pane:
            return light::Panes::one;
        case room::Glass::double_pane:
            return light::Panes::two;
    }
    return light::Panes::none;
}

light::RoomReflectances reflectances_for(const room::Room& room, const room::Window& window) {
    constexpr double of_glass = 0.1;  // handbooks, from memory
    const auto& r = room.reflectance;
    const double floor = std::abs(room::signed_area(room.floor));
    double around = 0, others = 0;  // widths of walls
    for (std::size_t i = 0; i < room.floor.size(); ++i) {
        around += wall_width(room, i);
        if (i != window.wall) others += wall_width(room, i);
    }
    double openings = 0, given_back = 0;
    for (const room::Window& w : room.windows) {
        const double area = w.width_m * w.height_m;
        openings += area;
        if (w.glass != room::Glass::none) given_back += area * of_glass;
    }
    const double walls = around * room.height_m;
    given_back += (walls - openings) * r.walls + floor * (r.floor + r.ceiling);

    const double middle = std::clamp(window.sill_m + window.height_m / 2, 0.0, room.height_m);
    const auto half = [&](double level, double height) {
        return (floor * level + others * height * r.walls) / (floor + others * height);
    };
    const double area = 2 * floor + walls;
    return {area, given_back / area, half(r.floor, middle),
            half(r.ceiling, room.height_m - middle)};
}

std::optional<ClearPart> clear_part(const room::Scene& scene, std::size_t window, Point3 sun) {
    const room::Window& w = scene.room().windows[window];
    const room::WallFrame& f = scene.frame(window);
    const Point2 level{sun.x, sun.y};
    const double outward = dot(level, f.n);
    if (outward <= 0) return std::nullopt;
    const double du = w.reveal_m * dot(level, f.u) / outward, dz = w.reveal_m * sun.z / outward;
    const ClearPart part{w.left_m + std::max(0.0, -du), w.left_m + w.width_m - std::max(0.0, du),
                         w.sill_m, w.sill_m + w.height_m - std::max(0.0, dz)};
    if (part.left_m >= part.right_m || part.low_m >= part.high_m) return std::nullopt;
    return part;
}

Point3 point_of(const ClearPart& part, const room::WallFrame& frame, double across, double up) {
    constexpr double inside_m = 1e-3;  // past the window's own wall
    const double u = std::lerp(part.left_m, part.right_m, across);
    const Point2 p = frame.left_corner + u * frame.u - inside_m * frame.n;
    return {p.x, p.y, std::lerp(part.low_m, part.high_m, up)};
}

double landing_reflectance(const room::Scene& scene, std::size_t window, Point3 sun) {
    constexpr int rays = 4;  // each way
    const auto part = clear_part(scene, window, sun);
    if (!part) return 0;
    double sum = 0;
    for (int i = 0; i < rays; ++i)
        for (int k = 0; k < rays; ++k) {
            const Point3 from =
                point_of(*part, scene.frame(window), (i + 0.5) / rays, (k + 0.5) / rays);
            sum += reflectance_of(scene.surface_down_sun(from, sun), scene.room().reflectance);
        }
    return sum / (rays * rays);
}

}  // namespace keyhour::study
