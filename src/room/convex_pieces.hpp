#pragma once
/// @file
/// An outline cut into convex pieces, in memory that the caller hands over.

#include <algorithm>
#include <cmath>
#include <span>

#include "keyhour/room/opening.hpp"
#include "keyhour/room/plan.hpp"

namespace keyhour::room {

/// As signed_area(Ring).
[[nodiscard]] inline Real signed_area_of(std::span<const Point2> ring) noexcept {
    Real twice = 0;
    for (std::size_t i = 0; i < ring.size(); ++i)
        twice += cross(ring[i], ring[(i + 1) % ring.size()]);
    return twice / 2;
}

/// Do all corners turn the way of a counter-clockwise outline (within `slack`, m2)?
[[nodiscard]] inline bool turns_left(std::span<const Point2> r, Real slack) noexcept {
    for (std::size_t i = 0; i < r.size(); ++i)
        if (cross(r[(i + 1) % r.size()] - r[i], r[(i + 2) % r.size()] - r[(i + 1) % r.size()]) <
            -slack)
            return false;
    return true;
}

/// The ear of a counter-clockwise outline that comes first, or, where only corners in line are
/// left, the flattest corner.
struct Ear {
    std::size_t corner;
    bool is_flat;
};
[[nodiscard]] inline Ear first_ear(std::span<const Point2> rest) noexcept {
    const std::size_t n = rest.size();
    const auto in_triangle = [](Point2 p, Point2 a, Point2 b, Point2 c) {
        return cross(b - a, p - a) >= 0 && cross(c - b, p - b) >= 0 && cross(a - c, p - c) >= 0;
    };
    Ear flat{0, true};
    Real least = 1e30;
    for (std::size_t i = 0; i < n; ++i) {
        const Point2 a = rest[(i + n - 1) % n], b = rest[i], c = rest[(i + 1) % n];
        const Real turn = cross(b - a, c - b);
        if (std::abs(turn) < least) {
            least = std::abs(turn);
            flat.corner = i;
        }
        if (turn > 0 && std::none_of(rest.begin(), rest.end(), [&](Point2 p) {
                return p != a && p != b && p != c && in_triangle(p, a, b, c);
            }))
            return {i, false};
    }
    return flat;
}

/// Calls `each(corners)` for convex pieces of at most 8 corners, counter-clockwise, that together
/// are the simple outline in `rest`, which is used up.
template <class Each>
void for_each_convex_piece(std::span<Point2> rest, const Each& each) {
    if (signed_area_of(rest) < 0) std::reverse(rest.begin(), rest.end());
    // Ear clipping (Meisters 1975), until what is left is convex.
    while (!turns_left(rest, crumb)) {
        const std::size_t n = rest.size();
        const Ear ear = first_ear(rest);
        if (!ear.is_flat)
            each(Corners{rest[(ear.corner + n - 1) % n], rest[ear.corner],
                         rest[(ear.corner + 1) % n]});
        std::copy(rest.begin() + static_cast<std::ptrdiff_t>(ear.corner) + 1, rest.end(),
                  rest.begin() + static_cast<std::ptrdiff_t>(ear.corner));
        rest = rest.first(n - 1);
    }
    constexpr std::size_t largest_piece = 8;
    for (std::size_t i = 1; i + 1 < rest.size(); i += largest_piece - 2) {
        Corners piece{rest[0]};
        for (std::size_t k = i; k < rest.size() && k < i + largest_piece - 1; ++k)
            piece.push_back(rest[k]);
        each(piece);
    }
}

}  // namespace keyhour::room
