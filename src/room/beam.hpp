#pragma once
/// @file
/// One window and one direction: the rays that the opening lets in, in the window's inner plane.

#include <utility>
#include <vector>

#include "convex.hpp"
#include "keyhour/room/scene.hpp"

namespace keyhour::room {

/// A point (u, w, z) goes along the ray to (u - w kx, z - w kz) in the wall's inner plane.
struct Scene::Beam {
    double su = 0, sw = 0, sz = 0;  ///< direction to the sun: right, outward, up
    double kx = 0, kz = 0;          ///< su / sw, sz / sw
    Box2 open;                      ///< meets both the inner and the outer rectangle
};

/// Outline of an upright piece, projected along the ray.
template <class Beam>
[[nodiscard]] Convex shadow(const UprightPiece& piece, const Beam& beam) noexcept {
    Point2 p[4 * 8];
    int n = 0;
    for (const Point2 q : piece.footprint) {
        const double u = q.x - q.y * beam.kx, dz = -q.y * beam.kz;
        p[n++] = {u, piece.bottom + dz};
        p[n++] = {u, piece.top + dz};
    }
    return hull(p, n);
}

/// Bounds of that outline, without making it.
template <class Beam>
[[nodiscard]] Box2 shadow_bounds(const UprightPiece& piece, const Beam& beam) noexcept {
    Box2 b{1e300, -1e300, 1e300, -1e300};
    for (const Point2 q : piece.footprint) {
        const double u = q.x - q.y * beam.kx, dz = -q.y * beam.kz;
        b.x0 = std::min(b.x0, u);
        b.x1 = std::max(b.x1, u);
        b.y0 = std::min(b.y0, piece.bottom + dz);
        b.y1 = std::max(b.y1, piece.top + dz);
    }
    return b;
}

/// The part of the footprint where a u + b w <= c; fewer than 3 corners (2 for a wall) if none.
[[nodiscard]] UprightPiece clipped(const UprightPiece& piece, double a, double b, double c);

/// Splits what of `part` lies outside `cover` into convex pieces and adds them to `out`.
void add_rest(const Convex& part, const Convex& cover, std::vector<Convex>& out);

/// Measure of `part` less what the outlines cover. The rest is kept as convex pieces that share no
/// area, so the cost grows with the edges that cross in it, not with the ways to overlap.
template <class Measure>
double uncovered(const Convex& part, const Convex* covers, int n, const Measure& measure) {
    std::vector<Convex> pieces{part}, rest;
    for (int i = 0; i < n && !pieces.empty(); ++i) {
        rest.clear();
        for (const Convex& piece : pieces)
            add_rest(piece, covers[i], rest);
        pieces.swap(rest);
    }
    double sum = 0;
    for (const Convex& piece : pieces)
        if (piece.n >= 3) sum += measure(piece);
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
        const double all = measure(part);
        for (const auto& [edge, covers] : groups_)
            each(edge,
                 all - uncovered(part, covers.data(), static_cast<int>(covers.size()), measure));
    }

private:
    std::vector<std::pair<LimitingEdge, std::vector<Convex>>> groups_;
};

}  // namespace keyhour::room
