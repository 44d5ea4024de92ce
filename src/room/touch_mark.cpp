#include <algorithm>
#include <cmath>

#include "beam.hpp"
#include "keyhour/room/scene.hpp"
#include "silhouette.hpp"

namespace keyhour::room {
namespace {

/// @param core  what must lie beyond an edge for it to count
template <class Opening, class Beam>
void judge_edges(const Opening& o, const Beam& beam, const Box2& core, Touch& out) noexcept {
    int bit = 0;
    const auto add = [&](bool is_beyond) { out.set_beyond(bit++, is_beyond); };
    for (const double depth : {0.0, o.reveal}) {
        const double du = depth * beam.kx, dz = depth * beam.kz;
        add(core.x1 <= o.left - du);
        add(core.x0 >= o.right - du);
        add(core.y1 <= o.sill - dz);
        add(core.y0 >= o.head - dz);
    }
    add(o.reveal * beam.kx >= o.right - o.left);
    add(-o.reveal * beam.kx >= o.right - o.left);
    add(o.reveal * beam.kz >= o.head - o.sill);
}

template <class Opening, class Beam>
void judge_panes(const Opening& o, const Beam& beam, const Box2& box, Touch& out) noexcept {
    int index = 0;
    for_each_pane(o, beam, [&](const Box2& pane) {
        if (pane.contains(box)) out.pane = index;
        ++index;
    });
}

/// What stands outside, then inside.
/// @param at, half_size  of the mark
template <class Opening, class Obstacles, class Beam>
void judge_pieces(const Opening& o, const Obstacles& before, const Beam& beam, const Box2& box,
                  Point2 at, double half_size, Touch& out) noexcept {
    std::size_t index = 0;
    for (const std::size_t i : before.outside) {
        const UprightPiece& piece = o.outside[i];
        const unsigned beside = sides(shadow_bounds(piece, beam), box);
        out.add_piece(index, beside, true);
        if (beside == 0 && Touch::can_hide(index) && holds(shadow(piece, beam), box))
            out.set_hidden_by(index);
        ++index;
    }
    const Point2 sunward{beam.su, beam.sw};
    const double far = -half_size * std::sqrt(dot(sunward, sunward));
    const auto see_inside = [&](const UprightPiece& piece) {
        // What lies on the mark's far side meets the ray beyond it.
        const bool is_sunward = std::any_of(piece.footprint.begin(), piece.footprint.end(),
                                            [&](Point2 q) { return dot(q - at, sunward) > far; });
        out.add_piece(index++,
                      is_sunward ? sides(shadow_bounds(piece, beam), box) : Touch::every_side,
                      false);
    };
    for (const std::size_t i : before.objects)
        see_inside(o.objects[i]);
    for (const std::size_t i : before.walls)
        see_inside(o.walls[i]);
}

}  // namespace

Touch Scene::touch(std::size_t mark, std::size_t window, Point3 sun, double wanted) const noexcept {
    if (mark == no_mark) return Beam::touch_of_opening(*this, window, sun);
    Touch out;
    Beam beam;
    const Opening& o = openings_[window];
    const bool passes = make_beam(window, sun, beam);
    if (beam.sw <= 0) {  // or the sun is down
        constexpr int behind_wall = 11;
        out.set_beyond(behind_wall, true);
        return out;
    }
    const Mark& m = room_.marks[mark];
    const Point2 at = o.marks[mark];
    const Box2 box = silhouette_bounds(o.frame, beam, m, at);
    // An edge beyond the middle of a silhouette, which is the same on both sides of it, takes half.
    const Point2 middle{(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
    judge_edges(o, beam, wanted > 0.5 ? Box2{middle.x, middle.x, middle.y, middle.y} : box, out);
    if (!passes || out.beyond != 0) return out;
    judge_panes(o, beam, box, out);
    judge_pieces(o, o.before[mark], beam, box, at, half_size(m), out);
    return out;
}

}  // namespace keyhour::room
