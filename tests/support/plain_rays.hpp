#pragma once
/// @file
/// "Does the sun reach this point through that window?", answered by one ray in double precision
/// against upright walls and boxes. Shares no step with src/room: no projection, no polygon
/// booleans, no shadow outlines; and needs no library (published/ray_room.hpp traces by Embree).

#include <cmath>
#include <limits>
#include <utility>

#include "keyhour/room/plan.hpp"
#include "keyhour/room/room.hpp"

namespace keyhour::test {

class PlainRays {
public:
    explicit PlainRays(const room::Room& r) : room_{r} {}

    [[nodiscard]] bool lit(room::Point3 p, std::size_t window, room::Point3 sun) const {
        const room::Window& w = room_.windows[window];
        const room::WallFrame f = room::wall_frame(room_.floor, w.wall);
        const double facing = f.n.x * sun.x + f.n.y * sun.y;
        if (facing <= 0 || sun.z <= 0) return false;
        const Ray ray{{p.x, p.y}, {sun.x, sun.y}, p.z, sun.z};
        const double inner = dot(f.left_corner - ray.at, f.n) / facing;
        const double outer = inner + w.reveal_m / facing;
        if (inner <= 0 || !passes_opening(ray, w, f, inner, outer, facing)) return false;
        for (std::size_t i = 0; i < room_.floor.size(); ++i)
            if (i != w.wall &&
                crosses(ray, room_.floor[i], room_.floor[(i + 1) % room_.floor.size()], hair,
                        inner - hair))
                return false;
        for (const room::Object& o : room_.objects)
            if (meets_prism(ray, o.footprint, o.height_m, hair, inner)) return false;
        if (meets_prism(ray, room_.floor, room_.height_m, outer + hair, endless)) return false;
        for (const room::Building& b : room_.buildings)
            if (meets_prism(ray, b.footprint, b.height_m - room_.floor_above_ground_m, outer + hair,
                            endless))
                return false;
        return true;
    }

private:
    static constexpr double hair = 1e-7, endless = 1e7;  // metres along the ray

    struct Ray {
        room::Point2 at, along;
        double z, climb;
        [[nodiscard]] room::Point2 plan(double t) const { return at + t * along; }
        [[nodiscard]] double height(double t) const { return z + t * climb; }
    };

    static bool crosses(const Ray& ray, room::Point2 a, room::Point2 b, double near, double far) {
        const room::Point2 edge = b - a;
        const double across = cross(ray.along, edge);
        if (across == 0) return false;
        const double t = cross(a - ray.at, edge) / across;
        const double s = cross(a - ray.at, ray.along) / across;
        return t > near && t < far && s >= 0 && s <= 1;
    }

    /// The ray climbs: below `top` it is up to where it meets that level.
    static bool meets_prism(const Ray& ray, const room::Ring& print, double top, double near,
                            double far) {
        far = std::min(far, (top - ray.z) / ray.climb);
        if (!(near < far)) return false;
        for (std::size_t i = 0; i < print.size(); ++i)
            if (crosses(ray, print[i], print[(i + 1) % print.size()], near, far)) return true;
        return room::contains(print, ray.plan(0.5 * (near + std::min(far, near + 1))));
    }

    static bool passes_opening(const Ray& ray, const room::Window& w, const room::WallFrame& f,
                               double inner, double outer, double facing) {
        const auto in_window = [&](double t) {
            const double u = dot(ray.plan(t) - f.left_corner, f.u) - w.left_m;
            return std::pair{u, ray.height(t) - w.sill_m};
        };
        for (const double t : {inner, outer}) {
            const auto [u, v] = in_window(t);
            if (!(u > 0 && u < w.width_m && v > 0 && v < w.height_m)) return false;
        }
        const auto [u, v] = in_window(outer - w.bars.set_back_m / facing);
        return !on_bar(u, w.width_m, w.bars.upright, w.bars.width_m) &&
               !on_bar(v, w.height_m, w.bars.level, w.bars.width_m);
    }

    /// `count` bars leave panes of equal size.
    static bool on_bar(double x, double size, int count, double bar) {
        if (count == 0) return false;
        const double pane = (size - count * bar) / (count + 1);
        const double in_step = std::fmod(x, pane + bar);
        return in_step > pane && in_step < pane + bar;
    }

    const room::Room& room_;
};

}  // namespace keyhour::test
