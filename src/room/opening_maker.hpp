#pragma once
/// @file
/// Prepares a window for rays: what stands before it, cut to where it counts, in the window's axes.

#include <cmath>
#include <span>
#include <utility>

#include "beam.hpp"
#include "convex_pieces.hpp"
#include "keyhour/room/opening.hpp"

namespace keyhour::room {

inline constexpr Real touch_m = hair;
/// Below this the ray runs along the wall, and no light of any use comes in.
inline constexpr Real least_in_front = 1e-4;
inline constexpr Real least_up = 1e-6;

/// As wall_frame(Ring, std::size_t).
[[nodiscard]] inline WallFrame wall_frame_of(std::span<const Point2> floor,
                                             std::size_t wall) noexcept {
    const Point2 a = floor[wall], b = floor[(wall + 1) % floor.size()];
    const Real width = length(b - a);
    const Point2 d = (1 / width) * (b - a);
    // Walking counter-clockwise the room lies to the left, so outside is to the right; who stands
    // inside and looks out then has the end of the wall at the left hand.
    if (signed_area_of(floor) > 0) return {b, {-d.x, -d.y}, {d.y, -d.x}, width};
    return {a, d, {-d.y, d.x}, width};
}

[[nodiscard]] inline bool is_convex_floor(std::span<const Point2> floor) noexcept {
    const Real sense = signed_area_of(floor) > 0 ? 1 : -1;
    for (std::size_t i = 0, n = floor.size(); i < n; ++i) {
        const Point2 a = floor[i], b = floor[(i + 1) % n], c = floor[(i + 2) % n];
        if (sense * cross(b - a, c - b) < -touch_m) return false;
    }
    return true;
}

[[nodiscard]] inline Point2 in_window_axes(const WallFrame& f, Point2 p) noexcept {
    return {dot(p - f.left_corner, f.u), dot(p - f.left_corner, f.n)};
}

/// What of a room all its windows share. Footprints of pieces lie on the plan.
template <template <class> class List>
struct BodyOf {
    template <class... Memory>
    explicit BodyOf(const Memory&... memory)
        : buildings(memory...), own(memory...), objects(memory...) {}

    std::span<const Point2> floor;
    Real height_m = 0;
    List<UprightPiece> buildings, own,
        objects;  ///< own: the room's, only if its floor is not convex

    /// @param scratch  as long as the footprint
    static void add(std::span<const Point2> footprint, Real bottom, Real top, LimitingEdge edge,
                    std::span<Point2> scratch, List<UprightPiece>& out) {
        std::copy(footprint.begin(), footprint.end(), scratch.begin());
        for_each_convex_piece(scratch.first(footprint.size()), [&](const Corners& corners) {
            out.push_back({corners, bottom, top, edge});
        });
    }
};

/// Rays from a mark through an opening, in plan (u, w): what of a floor plan they can meet.
class RaysInPlan {
public:
    /// @param reach  of the mark about `at`
    RaysInPlan(Real left, Real right, Real reveal, Point2 at, Real reach) noexcept;
    [[nodiscard]] bool may_meet_inside(const UprightPiece& piece) const noexcept;
    /// @param piece  beyond the outer plane
    [[nodiscard]] bool may_meet_outside(const UprightPiece& piece) const noexcept;

private:
    Real left_, right_, reveal_;
    Point2 at_;
    Real reach_;
    Convex inside_;
};

/// Panes along one side: `bars` bars leave bars + 1 panes of equal size.
template <class Panes>
void add_panes(Real from, Real to, int bars, Real bar, Panes& out) {
    const Real pane = (to - from - bars * bar) / (bars + 1);
    for (int i = 0; i <= bars; ++i) {
        const Real start = from + i * (pane + bar);
        out.push_back({start, i == bars ? to : start + pane});
    }
}

/// Adds the parts of pieces on the plan that lie where w >= from (sign = 1) or w <= from (sign =
/// -1).
template <class Pieces>
void add_beyond(const WallFrame& frame, const Pieces& on_plan, Real from, Real sign, Pieces& out) {
    for (const UprightPiece& piece : on_plan) {
        UprightPiece turned{{}, piece.bottom, piece.top, piece.edge};
        for (const Point2 p : piece.footprint)
            turned.footprint.push_back(in_window_axes(frame, p));
        const UprightPiece kept = clipped(turned, 0, -sign, -sign * from);
        if (kept.footprint.size() >= 3) out.push_back(kept);
    }
}

/// Everything of an opening but its marks. @param window  a room::Window, or what has its members
template <class Opening, class Window, class Body>
void prepare_opening(Opening& o, const Window& window, const Body& body) {
    o.frame = wall_frame_of(body.floor, window.wall);
    o.left = window.left_m;
    o.right = window.left_m + window.width_m;
    o.sill = window.sill_m;
    o.head = window.sill_m + window.height_m;
    o.reveal = window.reveal_m;
    o.bar_plane = window.reveal_m - window.bars.set_back_m;
    add_panes(o.left, o.right, window.bars.upright, window.bars.width_m, o.panes_u);
    add_panes(o.sill, o.head, window.bars.level, window.bars.width_m, o.panes_z);
    add_beyond(o.frame, body.buildings, o.reveal, 1, o.outside);
    add_beyond(o.frame, body.own, o.reveal + touch_m, 1, o.outside);
    add_beyond(o.frame, body.objects, 0, -1, o.objects);
    if (is_convex_floor(body.floor)) return;
    for (std::size_t i = 0; i < body.floor.size(); ++i) {
        const Point2 a = in_window_axes(o.frame, body.floor[i]);
        const Point2 b = in_window_axes(o.frame, body.floor[(i + 1) % body.floor.size()]);
        if (a.y > -touch_m && b.y > -touch_m) continue;
        const UprightPiece line = clipped({{a, b}, 0, body.height_m, {Edge::wall, i}}, 0, 1, 0);
        if (line.footprint.size() == 2) o.walls.push_back(line);
    }
}

/// @param mark  a room::Mark, or what has its members; @param reach  its half size
/// @param memory  what the opening's lists are made with
template <class Opening, class Mark, class... Memory>
void add_mark(Opening& o, const Mark& mark, Real reach, const Memory&... memory) {
    constexpr Real hair_m = 1e-6;
    const Point2 at = in_window_axes(o.frame, mark.at);
    o.marks.push_back(at);
    const Real lowest = mark.height_m - (mark.box_m ? (*mark.box_m)[2] / 2 : mark.radius_m);
    const RaysInPlan rays{o.left - hair_m, o.right + hair_m, o.reveal, at, reach + hair_m};
    typename Opening::Obstacles before(memory...);
    for (std::size_t i = 0; i < o.outside.size(); ++i)
        if (rays.may_meet_outside(o.outside[i]))
            before.outside.push_back(static_cast<std::uint32_t>(i));
    const auto choose = [&](const auto& pieces, auto& chosen) {
        for (std::size_t i = 0; i < pieces.size(); ++i)
            // Towards the sun a ray only rises.
            if (pieces[i].top > lowest && rays.may_meet_inside(pieces[i]))
                chosen.push_back(static_cast<std::uint32_t>(i));
    };
    choose(o.objects, before.objects);
    choose(o.walls, before.walls);
    o.before.push_back(before);
}

/// The rays from a direction before the window's plane, at any height. @return whether any pass
template <class Opening>
[[nodiscard]] bool make_rays_at_any_height(const Opening& o, Point3 toward,
                                           SunRays& rays) noexcept {
    const Point2 level{toward.x, toward.y};
    rays.sw = dot(level, o.frame.n);
    if (rays.sw < least_in_front) return false;
    rays.su = dot(level, o.frame.u);
    rays.sz = toward.z;
    rays.kx = rays.su / rays.sw;
    rays.kz = rays.sz / rays.sw;
    const Real du = o.reveal * rays.kx, dz = o.reveal * rays.kz;
    rays.open = {std::max(o.left, o.left - du), std::min(o.right, o.right - du),
                 std::max(o.sill, o.sill - dz), std::min(o.head, o.head - dz)};
    return !rays.open.is_empty();
}

/// The rays of a sun that stands before the window. @return whether any pass
template <class Opening>
[[nodiscard]] bool make_rays(const Opening& o, Point3 sun, SunRays& rays) noexcept {
    return sun.z >= least_up && make_rays_at_any_height(o, sun, rays);
}

/// Of a mark's centre from left jamb, right jamb, sill, head, as seen along the ray, m; positive
/// within.
template <class Opening>
[[nodiscard]] std::array<Real, 4> distances_within(const Opening& o, Point2 mark, Real height_m,
                                                   Point3 sun) noexcept {
    const Point2 level{sun.x, sun.y};
    const Real sw = dot(level, o.frame.n);
    constexpr Real far = -1e3;
    if (sw < least_in_front || sun.z < least_up) return {far, far, far, far};
    const Real kx = dot(level, o.frame.u) / sw, kz = sun.z / sw;
    const Real u = mark.x - mark.y * kx, z = height_m - mark.y * kz;
    const Real du = o.reveal * kx, dz = o.reveal * kz;
    return {u - std::max(o.left, o.left - du), std::min(o.right, o.right - du) - u,
            z - std::max(o.sill, o.sill - dz), std::min(o.head, o.head - dz) - z};
}

}  // namespace keyhour::room
