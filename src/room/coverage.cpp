#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "beam.hpp"
#include "keyhour/room/scene.hpp"

namespace keyhour::room {
namespace {

/// A sphere, seen along the ray: a disc. Outlines come in the window's plane, about its centre.
template <class Beam>
class Disc {
public:
    Disc(const Beam& beam, Point2 centre, double radius) noexcept
        : centre_{centre}, radius_{radius} {
        const double level = std::hypot(beam.su, beam.sw);
        xu_ = beam.sw / level;
        yu_ = -beam.su * beam.sz / level;
        yz_ = level;
        const double ru = radius * std::hypot(1.0, beam.kx), rz = radius * std::hypot(1.0, beam.kz);
        bounds_ = {centre.x - ru, centre.x + ru, centre.y - rz, centre.y + rz};
    }
    [[nodiscard]] const Box2& box() const noexcept { return bounds_; }
    [[nodiscard]] double whole() const noexcept { return std::numbers::pi * radius_ * radius_; }
    [[nodiscard]] double operator()(const Convex& part) const noexcept {
        Convex c;
        for (int i = 0; i < part.n; ++i) {
            const double u = part.x[i] - centre_.x, z = part.y[i] - centre_.y;
            c.add(u * xu_, u * yu_ + z * yz_);
        }
        return area_in_disc(c, radius_);
    }

private:
    Point2 centre_;
    double radius_;
    double xu_, yu_, yz_;  // window plane -> plane square to the ray
    Box2 bounds_;
};

/// A box, seen along the ray: the outline of its eight corners.
class Hexagon {
public:
    explicit Hexagon(const Convex& outline) noexcept
        : outline_{outline}, bounds_{bounds(outline)} {}
    [[nodiscard]] const Box2& box() const noexcept { return bounds_; }
    [[nodiscard]] double whole() const noexcept { return area(outline_); }
    [[nodiscard]] double operator()(const Convex& part) const noexcept {
        return area(clip(part, outline_));
    }

private:
    Convex outline_;
    Box2 bounds_;
};

template <class Beam>
Point2 along_ray(const Beam& beam, double u, double w, double z) noexcept {
    return {u - w * beam.kx, z - w * beam.kz};
}

template <class Beam>
Hexagon box_outline(const WallFrame& frame, const Beam& beam, const Mark& mark) noexcept {
    Point2 p[8];
    int n = 0;
    for (const double x : {-0.5, 0.5})
        for (const double y : {-0.5, 0.5})
            for (const double z : {-0.5, 0.5}) {
                const Point2 q = mark.at + Point2{x * (*mark.box_m)[0], y * (*mark.box_m)[1]} -
                                 frame.left_corner;
                p[n++] = along_ray(beam, dot(q, frame.u), dot(q, frame.n),
                                   mark.height_m + z * (*mark.box_m)[2]);
            }
    return Hexagon{hull(p, n)};
}

/// Calls `each(piece, shadow)` for what may stand between mark and sun within the box.
template <class Opening, class Beam, class Each>
void for_each_obstacle(const Opening& o, const Beam& beam, Point2 mark, const Box2& box,
                       const Each& each) {
    for (const UprightPiece& piece : o.outside)
        if (!common(shadow_bounds(piece, beam), box).is_empty()) each(piece, shadow(piece, beam));
    const auto inside = [&](const UprightPiece& piece) {
        if (common(shadow_bounds(piece, beam), box).is_empty()) return;
        // Only what lies sunward of the mark's centre.
        const UprightPiece part =
            clipped(piece, -beam.su, -beam.sw, -(beam.su * mark.x + beam.sw * mark.y));
        if (part.footprint.size() >= 2) each(part, shadow(part, beam));
    };
    for (const UprightPiece& piece : o.objects)
        inside(piece);
    for (const UprightPiece& piece : o.walls)
        inside(piece);
}

}  // namespace

template <class Silhouette>
double Scene::lit_fraction(const Opening& o, const Beam& beam, Point2 mark,
                           const Silhouette& silhouette) const {
    const Box2 reach = common(silhouette.box(), beam.open);
    if (reach.is_empty()) return 0;

    std::vector<Convex> covers;  // no memory is taken while it stays empty
    for_each_obstacle(o, beam, mark, reach, [&](const UprightPiece&, const Convex& c) {
        const Convex part = clip(c, reach);
        if (part.n >= 3) covers.push_back(part);
    });

    const double du = o.bar_plane * beam.kx, dz = o.bar_plane * beam.kz;
    double lit = 0;
    for (const auto& [u0, u1] : o.panes_u)
        for (const auto& [z0, z1] : o.panes_z) {
            const Box2 pane = common({u0 - du, u1 - du, z0 - dz, z1 - dz}, beam.open);
            if (common(pane, silhouette.box()).is_empty()) continue;
            if (covers.empty() && pane.contains(silhouette.box())) return 1;
            lit += uncovered(outline(common(pane, silhouette.box())), covers.data(),
                             static_cast<int>(covers.size()), silhouette);
        }
    return std::clamp(lit / silhouette.whole(), 0.0, 1.0);
}

double Scene::coverage(std::size_t mark, std::size_t window, Point3 sun) const {
    Beam beam;
    if (!make_beam(window, sun, beam)) return 0;
    const Opening& o = openings_[window];
    const Mark& m = room_.marks[mark];
    const Point2 at = o.marks[mark];
    if (m.box_m) return lit_fraction(o, beam, at, box_outline(o.frame, beam, m));
    const Disc<Beam> disc{beam, along_ray(beam, at.x, at.y, m.height_m), m.radius_m};
    return lit_fraction(o, beam, at, disc);
}

std::vector<Loss> Scene::losses(std::size_t mark, std::size_t window, Point3 sun) const {
    std::vector<Loss> out;
    const Opening& o = openings_[window];
    Beam beam;
    if (!make_beam(window, sun, beam)) {
        out = opening_losses(window, sun);
        if (beam.sw < 1e-4 || sun.z < 1e-6) return out;
        out.clear();  // in front, but the reveal shuts: judge by the silhouette below
    }
    const Mark& m = room_.marks[mark];
    const Point2 at = o.marks[mark];
    const auto collect = [&](const auto& silhouette) {
        const Box2 box = silhouette.box();
        const Convex all = outline(box);
        const double whole = silhouette.whole();
        const auto lost = [&](double a, double b, double c, Edge edge) {
            const double fraction = 1 - silhouette(clip(all, a, b, c)) / whole;
            if (fraction > 1e-9) out.push_back({{edge, 0}, fraction});
        };
        lost(-1, 0, -beam.open.x0, Edge::left_jamb);
        lost(1, 0, beam.open.x1, Edge::right_jamb);
        lost(0, -1, -beam.open.y0, Edge::sill);
        lost(0, 1, beam.open.y1, Edge::head);
        const Box2 reach = common(box, beam.open);
        if (reach.is_empty()) return;
        double in_panes = 0;
        const double du = o.bar_plane * beam.kx, dz = o.bar_plane * beam.kz;
        for (const auto& [u0, u1] : o.panes_u)
            for (const auto& [z0, z1] : o.panes_z) {
                const Box2 pane = common({u0 - du, u1 - du, z0 - dz, z1 - dz}, reach);
                if (!pane.is_empty()) in_panes += silhouette(outline(pane));
            }
        const double by_bars = (silhouette(outline(reach)) - in_panes) / whole;
        if (by_bars > 1e-9) out.push_back({{Edge::bar, 0}, by_bars});
        for_each_obstacle(o, beam, at, reach, [&](const UprightPiece& piece, const Convex& c) {
            const Convex part = clip(c, reach);
            if (part.n < 3) return;
            const double fraction = silhouette(part) / whole;
            const auto same = std::find_if(out.begin(), out.end(),
                                           [&](const Loss& l) { return l.edge == piece.edge; });
            if (same != out.end())
                same->fraction = std::min(1.0, same->fraction + fraction);
            else if (fraction > 1e-9)
                out.push_back({piece.edge, fraction});
        });
    };
    if (m.box_m)
        collect(box_outline(o.frame, beam, m));
    else
        collect(Disc<Beam>{beam, along_ray(beam, at.x, at.y, m.height_m), m.radius_m});
    return out;
}

}  // namespace keyhour::room
