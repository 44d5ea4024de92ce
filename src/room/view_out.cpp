// The world outside an opening, as a point of the room sees it: a central projection onto the
// opening's inner plane, where the sunlight's is a parallel one (scene.cpp).

#include <algorithm>
#include <cmath>
#include <span>

#include "beam.hpp"
#include "keyhour/room/scene.hpp"
#include "vectors.hpp"

namespace keyhour::room {
namespace {

constexpr double hair_m = 1e-6;  // nearer than this to the eye's own plane nothing is projected

/// Projects from a point (u, w, z) with w < 0 onto the plane w = 0.
class Eye {
public:
    explicit Eye(Point3 at) noexcept : at_{at} {}
    [[nodiscard]] const Point3& at() const noexcept { return at_; }
    [[nodiscard]] Point2 seen(Point3 q) const noexcept {
        const double t = -at_.y / (q.y - at_.y);
        return {at_.x + t * (q.x - at_.x), at_.z + t * (q.z - at_.z)};
    }
    /// A rectangle in the plane w.
    [[nodiscard]] Box2 seen(double u0, double u1, double z0, double z1, double w) const noexcept {
        const Point2 low = seen({u0, w, z0}), high = seen({u1, w, z1});
        return {low.x, high.x, low.y, high.y};
    }
    /// The outline of what of the piece lies before the eye; fewer than 3 corners if nothing.
    [[nodiscard]] Convex seen(const UprightPiece& piece) const {
        const UprightPiece before = clipped(piece, 0, -1, -(at_.y + hair_m));
        if (before.footprint.size() < 2) return {};
        Point2 p[2 * Convex::capacity];
        int n = 0;
        for (const Point2 q : before.footprint)
            for (const double z : {before.bottom, before.top})
                p[n++] = seen(Point3{q.x, q.y, z});
        return hull(p, n);
    }

private:
    Point3 at_;
};

void add_outlines(const Eye& eye, const std::vector<UprightPiece>& pieces, const Box2& opening,
                  std::vector<Convex>& out) {
    for (const UprightPiece& piece : pieces)
        if (const Convex seen = clip(eye.seen(piece), opening); seen.n >= 3) out.push_back(seen);
}

double area_in_view(const Convex& c) noexcept {
    return area(c);
}

double area_of(const Box2& b) noexcept {
    return (b.x1 - b.x0) * (b.y1 - b.y0);
}

/// Of a rectangle, what the outlines leave free.
double free_area(const Box2& part, std::span<const Convex> covers) {
    if (part.is_empty()) return 0;
    return uncovered(outline(part), covers.data(), static_cast<int>(covers.size()), area_in_view);
}

}  // namespace

std::vector<ViewPart> Scene::view_out(std::size_t window, Point3 from, const Skyline& skyline,
                                      int across, int up) const {
    const Opening& o = openings_[window];
    const Point2 level = Point2{from.x, from.y} - o.frame.left_corner;
    const Eye eye{{dot(level, o.frame.u), dot(level, o.frame.n), from.z}};
    std::vector<ViewPart> out;
    if (eye.at().y > -hair_m) return out;

    const Box2 opening{o.left, o.right, o.sill, o.head};
    const Box2 outer = eye.seen(o.left, o.right, o.sill, o.head, o.reveal);
    std::vector<Box2> panes;
    for (const auto& [u0, u1] : o.panes_u)
        for (const auto& [z0, z1] : o.panes_z)
            panes.push_back(common(common(eye.seen(u0, u1, z0, z1, o.bar_plane), outer), opening));
    std::vector<Convex> inside;
    add_outlines(eye, o.objects, opening, inside);
    add_outlines(eye, o.walls, opening, inside);
    std::vector<Convex> inside_and_buildings = inside;
    add_outlines(eye, o.outside, opening, inside_and_buildings);

    // From the eye to (u, z) of the inner plane, in plan axes.
    const double away = -eye.at().y;
    const auto to = [&](double u, double z) -> Point3 {
        const Point2 l = (u - eye.at().x) * o.frame.u + away * o.frame.n;
        return {l.x, l.y, z - eye.at().z};
    };
    const auto free_of = [&](const Box2& part, std::span<const Convex> covers) {
        double sum = 0;
        for (const Box2& pane : panes)
            sum += free_area(common(part, pane), covers);
        return sum;
    };
    const double du = (o.right - o.left) / across, dz = (o.head - o.sill) / up;
    for (int i = 0; i < across; ++i)
        for (int k = 0; k < up; ++k) {
            const Box2 part{o.left + i * du, o.left + (i + 1) * du, o.sill + k * dz,
                            o.sill + (k + 1) * dz};
            const double u = (part.x0 + part.x1) / 2, z = (part.y0 + part.y1) / 2;
            const Point3 middle = to(u, z);
            const double whole = area_of(part);
            ViewPart v;
            v.cloth = free_area(part, inside) / whole;
            if (v.cloth <= 0) continue;
            v.toward = unit(middle);
            v.incidence_cosine = away / std::sqrt(dot(middle, middle));
            v.solid_angle_sr = whole * v.incidence_cosine / dot(middle, middle);

            const Point2 ahead{middle.x, middle.y};
            const double sky_from = eye.at().z + length(ahead) * std::max(0.0, skyline(ahead));
            Box2 above = part;
            above.y0 = std::clamp(sky_from, part.y0, part.y1);
            const double glass = free_of(part, inside);
            const double past_buildings = free_of(part, inside_and_buildings);
            const double sky = free_of(above, inside_and_buildings);
            v.sky = sky / whole;
            v.ground = std::max(0.0, past_buildings - sky) / whole;
            v.building = std::max(0.0, glass - past_buildings) / whole;
            v.to_sky = unit(to(u, (above.y0 + above.y1) / 2));
            out.push_back(v);
        }
    return out;
}

}  // namespace keyhour::room
