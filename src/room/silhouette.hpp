#pragma once
/// @file
/// A mark as the sun sees it: the outline of its sphere or box, along the ray in a window's plane.

#include <algorithm>
#include <cmath>
#include <numbers>

#include "beam.hpp"
#include "convex.hpp"
#include "keyhour/room/room.hpp"

namespace keyhour::room {

template <class Beam>
Point2 along_ray(const Beam& beam, Point3 q) noexcept {
    return {q.x - q.y * beam.kx, q.z - q.y * beam.kz};
}

/// A sphere, seen along the ray: a disc. Outlines come in the window's plane, about its centre.
template <class Beam>
class Disc {
public:
    /// @param centre  u, w, z
    Disc(const Beam& beam, Point3 centre, Real radius) noexcept
        : beam_{beam},
          depth_{dot(centre, Point3{beam.su, beam.sw, beam.sz})},
          centre_{along_ray(beam, centre)},
          radius_{radius} {
        const Real level = std::sqrt(beam.su * beam.su + beam.sw * beam.sw);
        xu_ = beam.sw / level;
        yu_ = -beam.su * beam.sz / level;
        yz_ = level;
        const Real ru = radius * std::sqrt(1 + beam.kx * beam.kx);
        const Real rz = radius * std::sqrt(1 + beam.kz * beam.kz);
        bounds_ = {centre_.x - ru, centre_.x + ru, centre_.y - rz, centre_.y + rz};
    }
    [[nodiscard]] const Box2& box() const noexcept { return bounds_; }
    /// Area square to the ray.
    [[nodiscard]] Real whole() const noexcept { return std::numbers::pi * radius_ * radius_; }
    [[nodiscard]] Real operator()(const Convex& part) const noexcept {
        Convex c;
        for (int i = 0; i < part.n; ++i) {
            const Real u = part.x[i] - centre_.x, z = part.y[i] - centre_.y;
            c.add(u * xu_, u * yu_ + z * yz_);
        }
        return area_in_disc(c, radius_);
    }
    /// Shadow of what lies sunward of the plane through the centre, square to the ray: from there
    /// to the sphere's front the ray runs inside the sphere.
    [[nodiscard]] Convex shadow_before(const UprightPiece& piece) const noexcept {
        Point2 p[2 * Convex::capacity];
        int n = 0;
        const auto depth = [&](Point3 q) {
            return q.x * beam_.su + q.y * beam_.sw + q.z * beam_.sz - depth_;
        };
        const auto add_edge = [&](Point3 from, Point3 to) {
            const Real df = depth(from), dt = depth(to);
            if (df > 0) p[n++] = along_ray(beam_, from);
            if ((df > 0) != (dt > 0))
                p[n++] = along_ray(beam_, from + df / (df - dt) * (to - from));
        };
        for (std::size_t i = 0, j = piece.footprint.size() - 1; i < piece.footprint.size();
             j = i++) {
            const Point2 a = piece.footprint[j], b = piece.footprint[i];
            add_edge({a.x, a.y, piece.bottom}, {b.x, b.y, piece.bottom});
            add_edge({b.x, b.y, piece.top}, {a.x, a.y, piece.top});
            add_edge({a.x, a.y, piece.bottom}, {a.x, a.y, piece.top});
        }
        return hull(p, n);
    }

private:
    const Beam& beam_;
    Real depth_;  // of the centre along the ray
    Point2 centre_;
    Real radius_;
    Real xu_, yu_, yz_;  // window plane -> plane square to the ray
    Box2 bounds_;
};

/// One of the three faces of a box that the sun sees.
template <class Beam>
class BoxFace {
public:
    /// @param corner  of the face; @param a, b  its two edges; @param normal  towards the sun's
    /// side
    BoxFace(const Beam& beam, Point3 corner, Point3 a, Point3 b, Point3 normal) noexcept
        : beam_{beam}, normal_{normal}, plane_{dot(normal, corner)} {
        Point2 p[4] = {along_ray(beam, corner), along_ray(beam, corner + a),
                       along_ray(beam, corner + b), along_ray(beam, corner + a + b)};
        outline_ = hull(p, 4);
        bounds_ = bounds(outline_);
    }
    [[nodiscard]] const Box2& box() const noexcept { return bounds_; }
    /// Area in the window's plane.
    [[nodiscard]] Real whole() const noexcept { return area(outline_); }
    [[nodiscard]] Real operator()(const Convex& part) const noexcept {
        return area(clip(part, outline_));
    }
    /// Shadow of what lies on the sun's side of the face's plane.
    [[nodiscard]] Convex shadow_before(const UprightPiece& piece) const {
        constexpr Real hair_m = hair;  // what ends in the face's plane does not shade it
        if (normal_.z > 0) {
            UprightPiece above = piece;
            above.bottom = std::max(piece.bottom, plane_);
            return above.top > above.bottom + hair_m ? shadow(above, beam_) : Convex{};
        }
        const UprightPiece part = clipped(piece, -normal_.x, -normal_.y, -(plane_ + hair_m));
        return part.footprint.size() < 2 ? Convex{} : shadow(part, beam_);
    }

private:
    const Beam& beam_;
    Point3 normal_;
    Real plane_;
    Convex outline_;
    Box2 bounds_;
};

/// Calls `each(face)` for the faces of a box mark that the sun sees; together they are its
/// silhouette. @param at  u, w of its centre
template <class Beam, class Mark, class Each>
void for_each_face(const WallFrame& f, const Beam& beam, const Mark& mark, Point2 at,
                   const Each& each) {
    const auto& size = *mark.box_m;
    // The plan's x and y in the window's axes.
    const Point3 edges[3] = {
        size[0] * Point3{f.u.x, f.n.x, 0}, size[1] * Point3{f.u.y, f.n.y, 0}, {0, 0, size[2]}};
    const Point3 centre{at.x, at.y, mark.height_m};
    for (int i = 0; i < 3; ++i) {
        const Point3 a = edges[(i + 1) % 3], b = edges[(i + 2) % 3];
        const Real towards = dot(edges[i], Point3{beam.su, beam.sw, beam.sz});
        const Point3 out = (towards > 0 ? 0.5 : -0.5) * edges[i];
        const Point3 normal = 1 / std::sqrt(dot(out, out)) * out;
        each(BoxFace<Beam>{beam, centre + out - 0.5 * (a + b), a, b, normal});
    }
}

/// A box seen along the ray, in the window's plane: a middle and the halves of its three edges. Of
/// the edges along x and y none points to the left.
struct BoxSides {
    Point2 middle, along_x, along_y, upright;
};
template <class Beam, class Mark>
BoxSides box_sides(const WallFrame& f, const Beam& beam, const Mark& mark, Point2 at) noexcept {
    const auto& size = *mark.box_m;
    const auto rightward = [](Point2 p) { return p.x < 0 ? -1 * p : p; };
    return {along_ray(beam, {at.x, at.y, mark.height_m}),
            rightward((size[0] / 2) * along_ray(beam, {f.u.x, f.n.x, 0})),
            rightward((size[1] / 2) * along_ray(beam, {f.u.y, f.n.y, 0})),
            {0, size[2] / 2}};
}

/// The outline of its eight corners. Enough where nothing inside stands before it. The edges
/// follow one another by their slope (a zonogon), the upright last.
inline Convex outline(const BoxSides& box) noexcept {
    Point2 a = box.along_x, b = box.along_y;
    if (a.x * b.y < a.y * b.x) std::swap(a, b);
    Convex c;
    Point2 p = box.middle - a - b - box.upright;
    for (const Real way : {2.0, -2.0})
        for (const Point2 side : {a, b, box.upright}) {
            c.add(p.x, p.y);
            p = p + way * side;
        }
    return c;
}

inline Box2 bounds(const BoxSides& box) noexcept {
    const Real x = box.along_x.x + box.along_y.x;
    const Real y = std::abs(box.along_x.y) + std::abs(box.along_y.y) + box.upright.y;
    return {box.middle.x - x, box.middle.x + x, box.middle.y - y, box.middle.y + y};
}

template <class Pieces, class Chosen, class Each>
void for_each_of(const Pieces& pieces, const Chosen& chosen, const Each& each) {
    for (const std::uint32_t i : chosen)
        each(pieces[i]);
}

/// Calls `each(piece, shadow)` for what may stand between the silhouette and the sun within `box`.
template <class Opening, class Obstacles, class Beam, class Silhouette, class Each>
void for_each_obstacle(const Opening& o, const Obstacles& before, const Beam& beam,
                       const Silhouette& silhouette, const Box2& box, const Each& each) {
    for_each_of(o.outside, before.outside, [&](const UprightPiece& piece) {
        if (!common(shadow_bounds(piece, beam), box).is_empty()) each(piece, shadow(piece, beam));
    });
    const auto inside = [&](const UprightPiece& piece) {
        if (common(shadow_bounds(piece, beam), box).is_empty()) return;
        each(piece, silhouette.shadow_before(piece));
    };
    for_each_of(o.objects, before.objects, inside);
    for_each_of(o.walls, before.walls, inside);
}

/// Bounds of the silhouette. @param at  u, w of the mark's centre
template <class Beam, class Mark>
Box2 silhouette_bounds(const WallFrame& f, const Beam& beam, const Mark& mark, Point2 at) noexcept {
    if (mark.box_m) return bounds(box_sides(f, beam, mark, at));
    return Disc<Beam>{beam, {at.x, at.y, mark.height_m}, mark.radius_m}.box();
}

}  // namespace keyhour::room
