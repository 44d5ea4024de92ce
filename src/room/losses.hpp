#pragma once
/// @file
/// What edges take of a silhouette, whatever light it is seen by: areas, not yet fractions.

#include <algorithm>
#include <vector>

#include "beam.hpp"
#include "keyhour/room/scene.hpp"

namespace keyhour::room {

inline void add_loss(std::vector<Loss>& losses, LimitingEdge edge, Real area) {
    const auto same = std::ranges::find(losses, edge, &Loss::edge);
    if (same != losses.end())
        same->fraction += area;
    else
        losses.push_back({edge, area});
}

/// What the four edges of what is open in the inner plane take.
template <class Silhouette>
void add_opening(const Box2& open, const Silhouette& silhouette, std::vector<Loss>& out) {
    const Convex all = outline(silhouette.box());
    const auto lost = [&](Real a, Real b, Real c, Edge edge) {
        add_loss(out, {edge, 0}, silhouette.whole() - silhouette(clip(all, a, b, c)));
    };
    lost(-1, 0, -open.x0, Edge::left_jamb);
    lost(1, 0, open.x1, Edge::right_jamb);
    lost(0, -1, -open.y0, Edge::sill);
    lost(0, 1, open.y1, Edge::head);
}

/// Makes fractions of the whole of them, and leaves out what is none.
inline void make_fractions(std::vector<Loss>& losses, Real whole) {
    for (Loss& loss : losses)
        loss.fraction = std::min(Real(1), loss.fraction / whole);
    std::erase_if(losses, [](const Loss& loss) { return loss.fraction <= Real(1e-9); });
}

}  // namespace keyhour::room
