#include "lit_pieces.hpp"

#include <algorithm>
#include <cmath>

namespace keyhour::c {

using room::Convex;
using room::Point2;
using room::Point3;
using room::UprightPiece;

void PieceSink::begin(keyhour_surface_kind kind, std::size_t index) noexcept {
    kind_ = kind;
    index_ = index;
    area_m2_ = 0;
    moment_ = {};
}

void PieceSink::add(const keyhour_point3* corners, std::size_t n) noexcept {
    const auto at = [&](std::size_t i) {
        return Point3{corners[i].x_m, corners[i].y_m, corners[i].z_m};
    };
    for (std::size_t i = 1; i + 1 < n; ++i) {
        const Point3 a = at(i) - at(0), b = at(i + 1) - at(0);
        const Point3 twice{a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
        const Real size = std::sqrt(dot(twice, twice)) / 2;
        area_m2_ += size;
        moment_ = moment_ + (size / 3) * (at(0) + at(i) + at(i + 1));
    }
    if (!sink_) return;
    const keyhour_piece piece{kind_, index_, corners, n};
    sink_(context_, &piece);
}

keyhour_patch PieceSink::patch() const noexcept {
    const Point3 c = (area_m2_ > 0 ? 1 / area_m2_ : 0) * moment_;
    return {kind_, index_, area_m2_, {c.x, c.y, c.z}};
}

void LitPieces::on_floor() noexcept {
    for (const UprightPiece& piece : room_.floor_pieces())
        on_level(piece, 0);
}

void LitPieces::on_wall(std::size_t wall) noexcept {
    const auto floor = room_.floor();
    on_upright(floor[wall], floor[(wall + 1) % floor.size()], room_.height_m(),
               room::signed_area_of(floor) > 0 ? 1 : -1);
}

void LitPieces::on_object(std::size_t object) noexcept {
    const SmallObject& it = room_.objects()[object];
    for (const UprightPiece& piece : room_.object_pieces())
        if (piece.edge.index == object) on_level(piece, it.height_m);
    // Outside an object lies to the right of its counter-clockwise edge.
    const Real outward = room::signed_area_of(it.footprint()) > 0 ? -1 : 1;
    for (std::size_t i = 0; i < it.count; ++i)
        on_upright(it.corners[i], it.corners[(i + 1) % it.count], it.height_m, outward);
}

void LitPieces::cover(const UprightPiece& piece) noexcept {
    if (piece.footprint.size() < 2 || common(shadow_bounds(piece, rays_), rays_.open).is_empty())
        return;
    const Convex c = clip(shadow(piece, rays_), rays_.open);
    if (c.n >= 3) covers_.push_back(c);
}

void LitPieces::cover_outside() noexcept {
    covers_.clear();
    for (const UprightPiece& piece : o_.outside)
        cover(piece);
}

void LitPieces::on_level(const UprightPiece& on_plan, Real z) noexcept {
    UprightPiece turned{{}, 0, 0, {}};
    for (const Point2 p : on_plan.footprint)
        turned.footprint.push_back(in_window_axes(o_.frame, p));
    // In another wing a face can lie beyond the window's wall.
    const UprightPiece inside = clipped(turned, 0, 1, 0);
    Point2 seen[room::Corners::capacity];
    int n = 0;
    for (const Point2 q : inside.footprint)
        seen[n++] = rays_.seen(q, z);
    if (n < 3) return;
    const Convex face = clip(hull(seen, n), rays_.open);
    if (face.n < 3) return;
    cover_outside();
    const auto above = [&](const UprightPiece& piece) {
        UprightPiece part = piece;
        part.bottom = std::max(part.bottom, z);
        cover(part);
    };
    for (const UprightPiece& piece : o_.objects)
        if (piece.top > z + room::touch_m) above(piece);
    for (const UprightPiece& piece : o_.walls)
        above(piece);
    take(face, [&](Point2 p) {
        const Real t = (p.y - z) / rays_.sz;
        return Point3{p.x - t * rays_.su, -t * rays_.sw, z};
    });
}

void LitPieces::on_upright(Point2 a, Point2 b, Real top, Real outward) noexcept {
    const Point2 p = in_window_axes(o_.frame, a), q = in_window_axes(o_.frame, b), d = q - p;
    const Point2 back = (outward / length(d)) * Point2{d.y, -d.x};  // from the lit side inward
    const Real plane = dot(back, p);
    if (!rays_.stands_before(back, plane)) return;
    // A face's light must come through the opening: only what lies inside counts.
    const UprightPiece standing = room::clipped({{p, q}, 0, top, {}}, 0, 1, room::touch_m);
    if (standing.footprint.size() < 2) return;
    const Convex face = clip(shadow(standing, rays_), rays_.open);
    if (face.n < 3) return;
    cover_outside();
    // Beyond the face's plane by a hair, so that its own body does not shade it.
    for (const UprightPiece& piece : o_.objects)
        cover(clipped(piece, back.x, back.y, plane - room::touch_m));
    for (const UprightPiece& piece : o_.walls)
        cover(clipped(piece, back.x, back.y, plane - room::touch_m));
    take(face, [&](Point2 at) {
        const Real t = (back.x * at.x - plane) / (back.x * rays_.su + back.y * rays_.sw);
        return Point3{at.x - t * rays_.su, -t * rays_.sw, at.y - t * rays_.sz};
    });
}

template <class Place>
void LitPieces::take(const Convex& face, const Place& place) noexcept {
    for_each_pane(o_, rays_, [&](const room::Box2& pane) {
        if (pane.is_empty()) return;
        const Convex seen = clip(face, pane);
        if (seen.n < 3) return;
        for_each_uncovered(
            seen, covers_.data(), static_cast<int>(covers_.size()), [&](const Convex& part) {
                keyhour_point3 corners[Convex::capacity];
                for (int i = 0; i < part.n; ++i) {
                    const Point3 q = place({part.x[i], part.y[i]});
                    const Point2 xy = o_.frame.left_corner + q.x * o_.frame.u + q.y * o_.frame.n;
                    corners[i] = {xy.x, xy.y, q.z};
                }
                sink_.add(corners, static_cast<std::size_t>(part.n));
            });
    });
}

}  // namespace keyhour::c
