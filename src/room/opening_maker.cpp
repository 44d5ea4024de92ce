#include "opening_maker.hpp"

namespace keyhour::room {
namespace {

Convex plan_of(const UprightPiece& piece) noexcept {
    Convex c;
    for (const Point2 p : piece.footprint)
        c.add(p.x, p.y);
    return c;
}

}  // namespace

UprightPiece clipped(const UprightPiece& piece, Real a, Real b, Real c) noexcept {
    UprightPiece out{{}, piece.bottom, piece.top, piece.edge};
    const std::size_t n = piece.footprint.size();
    const auto beyond = [&](Point2 p) { return a * p.x + b * p.y - c; };
    for (std::size_t i = 0; i < n; ++i) {
        const Point2 p = piece.footprint[i], q = piece.footprint[(i + 1) % n];
        const Real dp = beyond(p), dq = beyond(q);
        if (dp <= 0) out.footprint.push_back(p);
        if ((dp < 0 && dq > 0) || (dp > 0 && dq < 0)) {
            if (n == 2 && i == 1) continue;  // a wall's line is walked once
            out.footprint.push_back(p + (dp / (dp - dq)) * (q - p));
        }
    }
    return out;
}

bool apart(const Convex& part, const Convex& cover) noexcept {
    for (int i = 0, j = cover.n - 1; i < cover.n; j = i++) {
        const Real dx = cover.x[i] - cover.x[j], dy = cover.y[i] - cover.y[j];
        bool all_outside = true;
        for (int k = 0; k < part.n && all_outside; ++k)
            all_outside = dx * (part.y[k] - cover.y[j]) <= dy * (part.x[k] - cover.x[j]);
        if (all_outside) return true;
    }
    return false;
}

RaysInPlan::RaysInPlan(Real left, Real right, Real reveal, Point2 at, Real reach) noexcept
    : left_{left}, right_{right}, reveal_{reveal}, at_{at}, reach_{reach} {
    Point2 p[6] = {{left, 0},
                   {right, 0},
                   {at.x - reach, at.y - reach},
                   {at.x + reach, at.y - reach},
                   {at.x + reach, at.y + reach},
                   {at.x - reach, at.y + reach}};
    inside_ = hull(p, 6);
}

bool RaysInPlan::may_meet_inside(const UprightPiece& piece) const noexcept {
    const Convex footprint = plan_of(piece);
    return !apart(footprint, inside_) && !apart(inside_, footprint);
}

bool RaysInPlan::may_meet_outside(const UprightPiece& piece) const noexcept {
    const Real nearest = -(at_.y + reach_), farthest = -(at_.y - reach_);
    if (nearest <= touch_m) return true;  // the mark reaches into the window
    for (const Real plane : {0.0, reveal_}) {
        // The ray farthest to a side grazes the jamb there from the mark's other side, from
        // near by if it runs outward.
        const Real to_left = left_ - (at_.x + reach_), to_right = right_ - (at_.x - reach_);
        const Real left = to_left / (plane + (to_left < 0 ? nearest : farthest));
        const Real right = to_right / (plane + (to_right > 0 ? nearest : farthest));
        bool is_left = true, is_right = true;
        for (const Point2 q : piece.footprint) {
            const Real depth = q.y - plane;
            is_left = is_left && q.x < left_ + left * depth;
            is_right = is_right && q.x > right_ + right * depth;
        }
        if (is_left || is_right) return false;
    }
    return true;
}

}  // namespace keyhour::room
