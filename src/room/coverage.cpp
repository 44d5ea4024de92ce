#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "beam.hpp"
#include "keyhour/room/scene.hpp"
#include "silhouette.hpp"

namespace keyhour::room {
namespace {

/// Might anything inside stand between a mark and the sun within `box`?
/// @param at, half_size  of the mark. What lies wholly on its far side meets the ray beyond the
///                       mark, not before.
template <class Opening, class Obstacles, class Beam>
bool is_obstructed_inside(const Opening& o, const Obstacles& before, const Beam& beam,
                          const Box2& box, Point2 at, double half_size) noexcept {
    const Point2 sunward{beam.su, beam.sw};
    const double far = -half_size * std::sqrt(dot(sunward, sunward));
    const auto touches = [&](const UprightPiece& piece) {
        if (common(shadow_bounds(piece, beam), box).is_empty()) return false;
        const bool is_sunward = std::any_of(piece.footprint.begin(), piece.footprint.end(),
                                            [&](Point2 q) { return dot(q - at, sunward) > far; });
        return is_sunward && clip(shadow(piece, beam), box).n >= 3;
    };
    return std::any_of(before.objects.begin(), before.objects.end(),
                       [&](std::size_t i) { return touches(o.objects[i]); }) ||
           std::any_of(before.walls.begin(), before.walls.end(),
                       [&](std::size_t i) { return touches(o.walls[i]); });
}

/// The shadows of what stands outside, cut to `box`.
template <class Opening, class Obstacles, class Beam>
std::vector<Convex> outside_shadows(const Opening& o, const Obstacles& before, const Beam& beam,
                                    const Box2& box) {
    std::vector<Convex> out;  // no memory is taken while it stays empty
    for_each_of(o.outside, before.outside, [&](const UprightPiece& piece) {
        if (common(shadow_bounds(piece, beam), box).is_empty()) return;
        const Convex part = clip(shadow(piece, beam), box);
        if (part.n >= 3) out.push_back(part);
    });
    return out;
}

}  // namespace

template <class Silhouette>
double Scene::lit_area(const Opening& o, const Obstacles& before, const Beam& beam,
                       const Silhouette& silhouette) const {
    const Box2 reach = common(silhouette.box(), beam.open);
    if (reach.is_empty()) return 0;

    std::vector<Convex> covers;  // no memory is taken while it stays empty
    for_each_obstacle(o, before, beam, silhouette, reach,
                      [&](const UprightPiece&, const Convex& c) {
                          const Convex part = clip(c, reach);
                          if (part.n >= 3) covers.push_back(part);
                      });

    double lit = 0;
    for_each_pane(o, beam, [&](const Box2& pane) {
        const Box2 seen = common(pane, silhouette.box());
        if (seen.is_empty()) return;
        if (covers.empty() && pane.contains(silhouette.box()))
            lit = silhouette.whole();  // and no other pane sees any of it
        else
            lit += covers.empty() ? silhouette(outline(seen))
                                  : uncovered(outline(seen), covers.data(),
                                              static_cast<int>(covers.size()), silhouette);
    });
    return lit;
}

double Scene::box_coverage(const Opening& o, const Obstacles& before, const Beam& beam,
                           const Convex& box) const {
    const Box2 reach = bounds(box);
    const auto covers = outside_shadows(o, before, beam, common(reach, beam.open));
    const auto measure = [](const Convex& part) { return area(part); };
    double lit = 0;
    for_each_pane(o, beam, [&](const Box2& pane) {
        if (common(pane, reach).is_empty()) return;
        const Convex part = clip(box, pane);
        lit += covers.empty()
                   ? area(part)
                   : uncovered(part, covers.data(), static_cast<int>(covers.size()), measure);
    });
    return std::clamp(lit / area(box), 0.0, 1.0);
}

bool Scene::may_be_shaded(std::size_t mark, std::size_t window, Point3 sun) const noexcept {
    const Opening& o = openings_[window];
    Beam beam;
    const auto& outside = o.before[mark].outside;
    if (outside.empty() || !make_beam(window, sun, beam)) return false;
    const Box2 reach =
        common(silhouette_bounds(o.frame, beam, room_.marks[mark], o.marks[mark]), beam.open);
    if (reach.is_empty()) return false;
    return std::any_of(outside.begin(), outside.end(), [&](std::size_t i) {
        const UprightPiece& piece = o.outside[i];
        return !common(shadow_bounds(piece, beam), reach).is_empty() &&
               clip(shadow(piece, beam), reach).n >= 3;
    });
}

double Scene::coverage(std::size_t mark, std::size_t window, Point3 sun) const {
    Beam beam;
    if (!make_beam(window, sun, beam)) return 0;
    const Opening& o = openings_[window];
    const Obstacles& before = o.before[mark];
    const Mark& m = room_.marks[mark];
    const Point2 at = o.marks[mark];
    if (m.box_m) {
        const Convex box = outline(box_sides(o.frame, beam, m, at));
        const Box2 reach = common(bounds(box), beam.open);
        if (reach.is_empty()) return 0;
        const auto& size = *m.box_m;
        if (!is_obstructed_inside(o, before, beam, reach, at,
                                  std::sqrt(size[0] * size[0] + size[1] * size[1]) / 2))
            return box_coverage(o, before, beam, box);
    }
    double lit = 0, whole = 0;
    const auto add = [&](const auto& silhouette) {
        lit += lit_area(o, before, beam, silhouette);
        whole += silhouette.whole();
    };
    if (m.box_m)
        for_each_face(o.frame, beam, m, at, add);
    else
        add(Disc<Beam>{beam, {at.x, at.y, m.height_m}, m.radius_m});
    return std::clamp(lit / whole, 0.0, 1.0);
}

}  // namespace keyhour::room
