#pragma once
/// @file
/// How much of a mark's silhouette the light through an opening reaches. Without memory but that of
/// the list of outlines that the caller hands over.

#include <algorithm>
#include <array>
#include <cmath>

#include "beam.hpp"
#include "silhouette.hpp"

namespace keyhour::room {

/// Might anything inside stand between a mark and the sun within `box`?
/// @param at, half_size  of the mark. What lies wholly on its far side meets the ray beyond the
///                       mark, not before.
template <class Opening, class Obstacles, class Beam>
bool is_obstructed_inside(const Opening& o, const Obstacles& before, const Beam& beam,
                          const Box2& box, Point2 at, Real half_size) noexcept {
    const Point2 sunward{beam.su, beam.sw};
    const Real far = -half_size * std::sqrt(dot(sunward, sunward));
    const auto touches = [&](const UprightPiece& piece) {
        return std::any_of(piece.footprint.begin(), piece.footprint.end(),
                           [&](Point2 q) { return dot(q - at, sunward) > far; }) &&
               shadow_within(piece, beam, box).n >= 3;
    };
    return std::any_of(before.objects.begin(), before.objects.end(),
                       [&](std::size_t i) { return touches(o.objects[i]); }) ||
           std::any_of(before.walls.begin(), before.walls.end(),
                       [&](std::size_t i) { return touches(o.walls[i]); });
}

/// The shadows of what stands outside, cut to `box`.
/// @param out  emptied first; it takes no memory while it stays empty
template <class Opening, class Obstacles, class Beam, class Outlines>
void find_outside_shadows(const Opening& o, const Obstacles& before, const Beam& beam,
                          const Box2& box, Outlines& out) {
    out.clear();
    for_each_of(o.outside, before.outside, [&](const UprightPiece& piece) {
        const Convex part = shadow_within(piece, beam, box);
        if (part.n >= 3) out.push_back(part);
    });
}

/// @param covers  what the caller lends for outlines
template <class Opening, class Obstacles, class Beam, class Silhouette, class Outlines>
Real lit_area(const Opening& o, const Obstacles& before, const Beam& beam,
              const Silhouette& silhouette, Outlines& covers) {
    const Box2 reach = common(silhouette.box(), beam.open);
    if (reach.is_empty()) return 0;
    covers.clear();
    for_each_obstacle(o, before, beam, silhouette, reach,
                      [&](const UprightPiece&, const Convex& c) {
                          const Convex part = clip(c, reach);
                          if (part.n >= 3) covers.push_back(part);
                      });
    Real lit = 0;
    for_each_pane(o, beam, [&](const Box2& pane) {
        const Box2 seen = common(pane, silhouette.box());
        if (seen.is_empty()) return;
        if (covers.empty() && pane.contains(silhouette.box()))
            lit = silhouette.whole();  // and no other pane sees any of it
        else
            lit += uncovered(outline(seen), covers.data(), static_cast<int>(covers.size()),
                             silhouette);
    });
    return lit;
}

/// Of a box before which nothing inside stands: its eight corners' outline is enough.
template <class Opening, class Obstacles, class Beam, class Outlines>
Real box_coverage(const Opening& o, const Obstacles& before, const Beam& beam, const Convex& box,
                  Outlines& covers) {
    const Box2 reach = bounds(box);
    find_outside_shadows(o, before, beam, common(reach, beam.open), covers);
    const auto measure = [](const Convex& part) { return area(part); };
    Real lit = 0;
    for_each_pane(o, beam, [&](const Box2& pane) {
        if (common(pane, reach).is_empty()) return;
        lit += uncovered(clip(box, pane), covers.data(), static_cast<int>(covers.size()), measure);
    });
    return std::clamp(lit / area(box), 0.0, 1.0);
}

/// Scene::coverage of a mark, of which the opening knows that it is its i-th.
/// @param m  a Mark, or what has its members
template <class Opening, class Beam, class Mark, class Outlines>
Real coverage_of(const Opening& o, std::size_t i, const Mark& m, const Beam& beam,
                 Outlines& covers) {
    const auto& before = o.before[i];
    const Point2 at = o.marks[i];
    if (m.box_m) {
        const Convex box = outline(box_sides(o.frame, beam, m, at));
        const Box2 reach = common(bounds(box), beam.open);
        if (reach.is_empty()) return 0;
        const auto& size = *m.box_m;
        if (!is_obstructed_inside(o, before, beam, reach, at, length(Point2{size[0], size[1]}) / 2))
            return box_coverage(o, before, beam, box, covers);
    }
    Real lit = 0, whole = 0;
    const auto add = [&](const auto& silhouette) {
        lit += lit_area(o, before, beam, silhouette, covers);
        whole += silhouette.whole();
    };
    if (m.box_m)
        for_each_face(o.frame, beam, m, at, add);
    else
        add(Disc<Beam>{beam, {at.x, at.y, m.height_m}, m.radius_m});
    return std::clamp(lit / whole, 0.0, 1.0);
}

}  // namespace keyhour::room
