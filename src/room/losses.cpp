#include "losses.hpp"

#include <cmath>
#include <vector>

#include "opening_maker.hpp"
#include "silhouette.hpp"

namespace keyhour::room {
namespace {

/// What bars and pieces take of the part within the opening.
template <class Opening, class Obstacles, class Beam, class Silhouette>
void add_within(const Opening& o, const Obstacles& before, const Beam& beam,
                const Silhouette& silhouette, std::vector<Loss>& out) {
    const Box2 reach = common(silhouette.box(), beam.open);
    if (reach.is_empty()) return;
    double in_panes = 0;
    for_each_pane(o, beam, [&](const Box2& pane) {
        const Box2 seen = common(pane, reach);
        if (!seen.is_empty()) in_panes += silhouette(outline(seen));
    });
    add_loss(out, {Edge::bar, 0}, silhouette(outline(reach)) - in_panes);
    CoversByEdge covers;
    for_each_obstacle(o, before, beam, silhouette, reach,
                      [&](const UprightPiece& piece, const Convex& c) {
                          covers.add(piece.edge, clip(c, reach));
                      });
    covers.for_each_taken(outline(reach), silhouette,
                          [&](LimitingEdge edge, double area) { add_loss(out, edge, area); });
}

}  // namespace

std::vector<Loss> Scene::losses(std::size_t mark, std::size_t window, Point3 sun) const {
    std::vector<Loss> out;
    const Opening& o = openings_[window];
    Beam beam;
    // In front, but the reveal shuts: judged by the silhouette all the same.
    if (!make_beam(window, sun, beam) && beam.sw < least_in_front)
        return opening_losses(window, sun);
    const Mark& m = room_.marks[mark];
    const Point2 at = o.marks[mark];
    double whole = 0;
    const auto collect = [&](const auto& silhouette) {
        whole += silhouette.whole();
        add_opening(beam.open, silhouette, out);
        add_within(o, o.before[mark], beam, silhouette, out);
    };
    if (m.box_m)
        for_each_face(o.frame, beam, m, at, collect);
    else
        collect(Disc<Beam>{beam, {at.x, at.y, m.height_m}, m.radius_m});
    make_fractions(out, whole);
    return out;
}

}  // namespace keyhour::room
