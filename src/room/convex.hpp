#pragma once
/// @file
/// Convex outlines of a few corners, on the stack: the small change of the inner loop.

#include <algorithm>

#include "keyhour/room/plan.hpp"

namespace keyhour::room {

/// Corners counter-clockwise. Uninitialised beyond n: it is copied in the inner loop.
struct Convex {
    static constexpr int capacity = 48;
    Real x[capacity];
    Real y[capacity];
    int n;

    // Not "= default": that would fill the arrays with zeros.
    Convex() noexcept { n = 0; }
    Convex(const Convex& other) noexcept { *this = other; }
    Convex& operator=(const Convex& other) noexcept {
        if (this == &other) return *this;
        n = other.n;
        for (int i = 0; i < n; ++i) {
            x[i] = other.x[i];
            y[i] = other.y[i];
        }
        return *this;
    }

    void add(Real px, Real py) noexcept {
        if (n < capacity) {
            x[n] = px;
            y[n] = py;
            ++n;
        }
    }
};

struct Box2 {
    Real x0 = 0, x1 = 0, y0 = 0, y1 = 0;
    [[nodiscard]] bool is_empty() const noexcept { return x0 >= x1 || y0 >= y1; }
    [[nodiscard]] bool contains(const Box2& b) const noexcept {
        return x0 <= b.x0 && x1 >= b.x1 && y0 <= b.y0 && y1 >= b.y1;
    }
    void grow_to(Point2 p) noexcept {
        x0 = std::min(x0, p.x);
        x1 = std::max(x1, p.x);
        y0 = std::min(y0, p.y);
        y1 = std::max(y1, p.y);
    }
};
/// To be grown.
inline constexpr Box2 no_box{1e30, -1e30, 1e30, -1e30};

[[nodiscard]] inline Box2 common(const Box2& a, const Box2& b) noexcept {
    return {std::max(a.x0, b.x0), std::min(a.x1, b.x1), std::max(a.y0, b.y0), std::min(a.y1, b.y1)};
}
[[nodiscard]] Box2 bounds(const Convex& c) noexcept;
[[nodiscard]] Convex outline(const Box2& b) noexcept;
[[nodiscard]] Real area(const Convex& c) noexcept;

/// The part where a x + b y <= c.
[[nodiscard]] Convex clip(const Convex& in, Real a, Real b, Real c) noexcept;
[[nodiscard]] Convex clip(const Convex& in, const Box2& box) noexcept;
[[nodiscard]] Convex clip(const Convex& in, const Convex& by) noexcept;

/// Convex hull of n points (n at most 2 x capacity); fewer than 3 corners if they are in line.
[[nodiscard]] Convex hull(Point2* points, int n) noexcept;

/// Area that the outline, counter-clockwise, shares with the disc of radius r about the origin.
[[nodiscard]] Real area_in_disc(const Convex& c, Real r) noexcept;

/// Does an outline, corners counter-clockwise, hold all of a box?
[[nodiscard]] bool holds(const Convex& hull, const Box2& box) noexcept;

}  // namespace keyhour::room
