#pragma once
/// @file
/// The rays that one opening lets in, in the window's inner plane: parallel ones of the sun, or
/// those of a lamp, from a point.

#include <algorithm>
#include <span>
#include <utility>
#include <vector>

#include "convex.hpp"
#include "keyhour/room/scene.hpp"

namespace keyhour::room {

/// A point (u, w, z) goes along the ray to (u - w kx, z - w kz) in the wall's inner plane.
struct SunRays {
    static constexpr bool is_parallel = true;
    Real su = 0, sw = 0, sz = 0;  ///< direction to the sun: right, outward, up
    Real kx = 0, kz = 0;          ///< su / sw, sz / sw
    Box2 open;                    ///< meets both the inner and the outer rectangle

    /// Where the ray through a point (u, w) at a height meets the inner plane.
    [[nodiscard]] Point2 seen(Point2 q, Real z) const noexcept {
        return {q.x - q.y * kx, z - q.y * kz};
    }
    /// From a point towards the source: u, w, z.
    [[nodiscard]] Point3 toward(Point3) const noexcept { return {su, sw, sz}; }
    /// Does the source stand before an upright face? @param back  from the lit side into the body
    [[nodiscard]] bool stands_before(Point2 back, Real) const noexcept {
        return back.x * su + back.y * sw <= -hair;
    }
    [[nodiscard]] bool stands_above(Real) const noexcept { return true; }
};

/// The same, with what looks into a scene.
struct Scene::Beam : SunRays {
    /// Scene::touch of the opening itself: lit where a part of it is, dark where none is.
    [[nodiscard]] static Touch touch_of_opening(const Scene& scene, std::size_t window,
                                                Point3 sun) noexcept;

    [[nodiscard]] static bool lights_a_spot(const Scene& scene, std::size_t window,
                                            std::span<const Point3> suns) noexcept;
    [[nodiscard]] friend bool lights_a_spot(const Scene& scene, std::size_t window,
                                            std::span<const Point3> suns) noexcept {
        return Beam::lights_a_spot(scene, window, suns);
    }
};

/// Is there a spot of the opening, larger than the smallest patch, that the sun lights from all
/// these directions, and so from all between?
bool lights_a_spot(const Scene& scene, std::size_t window, std::span<const Point3> suns) noexcept;

/// Scene::touch of this mark is that of the opening itself.
inline constexpr std::size_t no_mark = static_cast<std::size_t>(-1);

/// The rays of a lamp at (u, w, z), w > 0. What it sees lies nearer the wall than itself.
struct PointRays {
    static constexpr bool is_parallel = false;
    Point3 lamp;
    Box2 open;

    [[nodiscard]] Point2 seen(Point2 q, Real z) const noexcept {
        const Real t = lamp.y / (lamp.y - q.y);
        return {lamp.x + t * (q.x - lamp.x), lamp.z + t * (z - lamp.z)};
    }
    [[nodiscard]] Point3 toward(Point3 from) const noexcept { return lamp - from; }
    [[nodiscard]] bool stands_before(Point2 back, Real plane) const noexcept {
        return back.x * lamp.x + back.y * lamp.y - plane <= -hair;
    }
    [[nodiscard]] bool stands_above(Real z) const noexcept { return lamp.z > z + hair; }
    [[nodiscard]] bool stands_below(Real z) const noexcept { return lamp.z < z - hair; }
};

/// Outline of an upright piece, projected along the rays. Its footprint is convex and stays so, and
/// uprights stay upright: below it is closed by the bottom's lower side, above by the top's upper.
template <class Rays>
[[nodiscard]] Convex shadow(const UprightPiece& piece, const Rays& rays) noexcept {
    constexpr std::size_t most = 16;
    const std::size_t n = std::min(piece.footprint.size(), most);
    if (n < 2) return {};
    Point2 low[most], high[most];
    std::size_t left = 0, right = 0;
    for (std::size_t i = 0; i < n; ++i) {
        low[i] = rays.seen(piece.footprint[i], piece.bottom);
        high[i] = rays.seen(piece.footprint[i], piece.top);
        if (low[i].x < low[left].x) left = i;
        if (low[i].x > low[right].x) right = i;
    }
    Convex out;
    const auto add = [&](const Point2* ring, std::size_t from, std::size_t to) {
        Real sense = 0;  // twice the area, from a corner of its own: it may lie far off
        for (std::size_t i = 2; i < n; ++i)
            sense += cross(ring[i - 1] - ring[0], ring[i] - ring[0]);
        for (std::size_t i = from;; i = sense >= 0 ? (i + 1) % n : (i + n - 1) % n) {
            out.add(ring[i].x, ring[i].y);
            if (i == to) return;
        }
    };
    add(low, left, right);
    add(high, right, left);
    return out;
}

/// Bounds of that outline, without making it.
template <class Rays>
[[nodiscard]] Box2 shadow_bounds(const UprightPiece& piece, const Rays& rays) noexcept {
    Box2 b = no_box;
    if constexpr (Rays::is_parallel) {
        for (const Point2 q : piece.footprint)
            b.grow_to({q.x - q.y * rays.kx, q.y});
        const Real near = b.y0 * rays.kz, far = b.y1 * rays.kz;  // from below, kz is negative
        b.y0 = piece.bottom - std::max(near, far);
        b.y1 = piece.top - std::min(near, far);
        return b;
    }
    for (const Point2 q : piece.footprint) {
        b.grow_to(rays.seen(q, piece.bottom));
        b.grow_to(rays.seen(q, piece.top));
    }
    return b;
}

/// The part of its shadow in `box`; fewer than 3 corners if there is none.
template <class Rays>
[[nodiscard]] Convex shadow_within(const UprightPiece& piece, const Rays& rays,
                                   const Box2& box) noexcept {
    if (common(shadow_bounds(piece, rays), box).is_empty()) return {};
    return clip(shadow(piece, rays), box);
}

/// On which sides of `box` a shadow wholly lies: bits of Touch::Side.
[[nodiscard]] inline unsigned sides(const Box2& shadow, const Box2& box) noexcept {
    return (shadow.x1 <= box.x0 ? Touch::left : 0U) | (shadow.x0 >= box.x1 ? Touch::right : 0U) |
           (shadow.y0 >= box.y1 ? Touch::above : 0U) | (shadow.y1 <= box.y0 ? Touch::below : 0U);
}

/// Calls `each(pane)` with each pane's outline in the inner plane, as far as the opening is open to
/// the beam; it may be empty.
template <class Opening, class Beam, class Each>
void for_each_pane(const Opening& o, const Beam& beam, const Each& each) {
    const Real du = o.bar_plane * beam.kx, dz = o.bar_plane * beam.kz;
    for (const auto& [u0, u1] : o.panes_u)
        for (const auto& [z0, z1] : o.panes_z)
            each(common({u0 - du, u1 - du, z0 - dz, z1 - dz}, beam.open));
}

/// The part of the footprint where a u + b w <= c; fewer than 3 corners (2 for a wall) if none.
[[nodiscard]] UprightPiece clipped(const UprightPiece& piece, Real a, Real b, Real c) noexcept;

/// Does an edge of `cover` have all of `part` outside?
[[nodiscard]] bool apart(const Convex& part, const Convex& cover) noexcept;

/// Is all of it where a x + b y < c?
[[nodiscard]] inline bool is_within(const Convex& part, Real a, Real b, Real c) noexcept {
    for (int i = 0; i < part.n; ++i)
        if (!(a * part.x[i] + b * part.y[i] - c < 0)) return false;
    return true;
}

/// Calls `each(piece)` for what the outlines leave of `part`, as convex pieces that share no area:
/// the cost grows with the edges that cross in it, not with the ways to overlap. Takes no memory
/// but the stack, a few Convex for each outline that overlaps.
template <class Each>
void for_each_uncovered(const Convex& part, const Convex* covers, int n, const Each& each) {
    constexpr Real crumb_m2 = crumb / 10;
    while (n > 0 && (covers->n < 3 || apart(part, *covers))) {
        ++covers;
        --n;
    }
    if (n == 0) {
        if (part.n >= 3) each(part);
        return;
    }
    const Convex& cover = *covers;
    Convex left = part;  // of the part, inside all edges so far
    for (int i = 0, j = cover.n - 1; i < cover.n && left.n >= 3; j = i++) {
        const Real dx = cover.x[i] - cover.x[j], dy = cover.y[i] - cover.y[j];
        const Real c = dy * cover.x[j] - dx * cover.y[j];
        if (is_within(left, dy, -dx, c)) continue;  // most edges cut nothing off
        const Convex outside = clip(left, -dy, dx, -c);
        if (outside.n >= 3 && area(outside) > crumb_m2)
            for_each_uncovered(outside, covers + 1, n - 1, each);
        left = clip(left, dy, -dx, c);
    }
}

/// Measure of `part` less what the outlines cover.
template <class Measure>
Real uncovered(const Convex& part, const Convex* covers, int n, const Measure& measure) {
    Real sum = 0;
    for_each_uncovered(part, covers, n, [&](const Convex& piece) { sum += measure(piece); });
    return sum;
}

/// Outlines sorted by the edge that they belong to: pieces of one building count once where they
/// overlap.
class CoversByEdge {
public:
    void add(LimitingEdge edge, const Convex& cover) {
        if (cover.n < 3) return;
        for (auto& [known, covers] : groups_)
            if (known == edge) return covers.push_back(cover);
        groups_.push_back({edge, {cover}});
    }
    /// Calls `each(edge, measure of what the edge's outlines take of part)`.
    template <class Measure, class Each>
    void for_each_taken(const Convex& part, const Measure& measure, const Each& each) const {
        const Real all = measure(part);
        for (const auto& [edge, covers] : groups_)
            each(edge,
                 all - uncovered(part, covers.data(), static_cast<int>(covers.size()), measure));
    }

private:
    std::vector<std::pair<LimitingEdge, std::vector<Convex>>> groups_;
};

}  // namespace keyhour::room
