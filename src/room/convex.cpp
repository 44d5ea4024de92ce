#include "convex.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace keyhour::room {

Box2 bounds(const Convex& c) noexcept {
    Box2 b = no_box;
    for (int i = 0; i < c.n; ++i)
        b.grow_to({c.x[i], c.y[i]});
    return b;
}

Convex outline(const Box2& b) noexcept {
    Convex c;
    c.add(b.x0, b.y0);
    c.add(b.x1, b.y0);
    c.add(b.x1, b.y1);
    c.add(b.x0, b.y1);
    return c;
}

Real area(const Convex& c) noexcept {
    Real twice = 0;
    for (int i = 0, j = c.n - 1; i < c.n; j = i++)
        twice += c.x[j] * c.y[i] - c.x[i] * c.y[j];
    return twice / 2;
}

namespace {

/// The part of `in` where distance(x, y) < 0; a linear function.
template <class Distance>
void clip_into(Convex& out, const Convex& in, const Distance& distance) noexcept {
    out.n = 0;
    if (in.n == 0) return;
    int j = in.n - 1;
    Real dj = distance(in.x[j], in.y[j]);
    for (int i = 0; i < in.n; ++i) {
        const Real di = distance(in.x[i], in.y[i]);
        if ((di < 0) != (dj < 0)) {
            const Real t = dj / (dj - di);
            out.add(in.x[j] + t * (in.x[i] - in.x[j]), in.y[j] + t * (in.y[i] - in.y[j]));
        }
        if (di < 0) out.add(in.x[i], in.y[i]);
        j = i;
        dj = di;
    }
}

/// Cuts by one line after the other between two outlines, so that nothing is copied.
class Cutter {
public:
    explicit Cutter(const Convex& in) noexcept : now_{&in} {}
    template <class Distance>
    void cut(const Distance& distance) noexcept {
        Convex& out = now_ == &one_ ? other_ : one_;
        clip_into(out, *now_, distance);
        now_ = &out;
    }
    [[nodiscard]] const Convex& left() const noexcept { return *now_; }

private:
    const Convex* now_;
    Convex one_, other_;
};

}  // namespace

Convex clip(const Convex& in, Real a, Real b, Real c) noexcept {
    Convex out;
    clip_into(out, in, [=](Real x, Real y) { return a * x + b * y - c; });
    return out;
}

Convex clip(const Convex& in, const Box2& box) noexcept {
    const Box2 b = bounds(in);
    Cutter cutter{in};
    if (b.x0 < box.x0) cutter.cut([&](Real x, Real) { return box.x0 - x; });
    if (b.x1 > box.x1) cutter.cut([&](Real x, Real) { return x - box.x1; });
    if (b.y0 < box.y0) cutter.cut([&](Real, Real y) { return box.y0 - y; });
    if (b.y1 > box.y1) cutter.cut([&](Real, Real y) { return y - box.y1; });
    return cutter.left();
}

Convex clip(const Convex& in, const Convex& by) noexcept {
    Cutter cutter{in};
    for (int i = 0, j = by.n - 1; i < by.n; j = i++) {
        const Real dx = by.x[i] - by.x[j], dy = by.y[i] - by.y[j];
        const Real c = dy * by.x[j] - dx * by.y[j];
        cutter.cut([=](Real x, Real y) { return dy * x - dx * y - c; });
    }
    return cutter.left();
}

Convex hull(Point2* points, int n) noexcept {
    // Andrew's monotone chain (Andrew 1979).
    std::sort(points, points + n,
              [](Point2 a, Point2 b) { return a.x < b.x || (a.x == b.x && a.y < b.y); });
    Convex h;
    const auto turn = [&h](Point2 c) {
        return (h.x[h.n - 1] - h.x[h.n - 2]) * (c.y - h.y[h.n - 2]) -
               (h.y[h.n - 1] - h.y[h.n - 2]) * (c.x - h.x[h.n - 2]);
    };
    for (int i = 0; i < n; ++i) {
        while (h.n >= 2 && turn(points[i]) <= 0)
            --h.n;
        h.add(points[i].x, points[i].y);
    }
    const int lower = h.n + 1;
    for (int i = n - 2; i >= 0; --i) {
        while (h.n >= lower && turn(points[i]) <= 0)
            --h.n;
        h.add(points[i].x, points[i].y);
    }
    if (h.n > 1) --h.n;
    return h;
}

namespace {

Real sector(Real ax, Real ay, Real bx, Real by, Real r) noexcept {
    return r * r / 2 * std::atan2(ax * by - ay * bx, ax * bx + ay * by);
}

/// Signed area shared by the disc and the triangle origin, p, q.
Real edge_in_disc(Real px, Real py, Real qx, Real qy, Real r) noexcept {
    const Real dx = qx - px, dy = qy - py;
    const Real a = dx * dx + dy * dy;
    if (a == 0) return 0;
    const Real b = px * dx + py * dy;
    const Real c = px * px + py * py - r * r;
    const Real d = b * b - a * c;
    if (d <= 0) return sector(px, py, qx, qy, r);
    const Real s = std::sqrt(d);
    const Real t1 = (-b - s) / a, t2 = (-b + s) / a;
    if (t1 >= 1 || t2 <= 0) return sector(px, py, qx, qy, r);
    const Real u = std::max(t1, 0.0), v = std::min(t2, 1.0);
    const Real ux = px + u * dx, uy = py + u * dy, vx = px + v * dx, vy = py + v * dy;
    const Real sum = (ux * vy - uy * vx) / 2;
    return sum + sector(px, py, ux, uy, r) + sector(vx, vy, qx, qy, r);
}

Real area_by_edges(const Convex& c, Real r) noexcept {
    Real sum = 0;
    for (int i = 0, j = c.n - 1; i < c.n; j = i++)
        sum += edge_in_disc(c.x[j], c.y[j], c.x[i], c.y[i], r);
    return sum;
}

}  // namespace

Real area_in_disc(const Convex& c, Real r) noexcept {
    // Without a corner in it, the disc is cut by whole chords that do not meet: it loses a segment
    // to each. That is the usual case, and takes a tenth of the inverse tangents.
    Real lost = 0;
    bool is_cut = false, has_centre = false;
    for (int i = 0, j = c.n - 1; i < c.n; j = i++) {
        const Real px = c.x[j], py = c.y[j];
        if (px * px + py * py < r * r) return area_by_edges(c, r);
        const Real dx = c.x[i] - px, dy = c.y[i] - py;
        const Real side = px * dy - py * dx;  // of the centre, times the edge's length
        // The centre's ray to the right meets the edge.
        if ((py > 0) != (c.y[i] > 0) && (side > 0) == (dy > 0)) has_centre = !has_centre;
        const Real squared = dx * dx + dy * dy, along = -(px * dx + py * dy);
        if (along <= 0 || along >= squared) continue;
        const Real cosine = side / (std::sqrt(squared) * r);
        if (std::abs(cosine) >= 1) continue;
        is_cut = true;
        lost += r * r * (std::acos(cosine) - cosine * std::sqrt(1 - cosine * cosine));
    }
    if (!is_cut) return has_centre ? std::numbers::pi * r * r : 0;
    return std::numbers::pi * r * r - lost;
}

bool holds(const Convex& hull, const Box2& box) noexcept {
    for (const Real x : {box.x0, box.x1})
        for (const Real y : {box.y0, box.y1})
            for (int i = 0, j = hull.n - 1; i < hull.n; j = i++)
                if ((hull.x[i] - hull.x[j]) * (y - hull.y[j]) <
                    (hull.y[i] - hull.y[j]) * (x - hull.x[j]))
                    return false;
    return hull.n >= 3;
}

}  // namespace keyhour::room
