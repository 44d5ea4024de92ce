#include <algorithm>
#include <vector>

#include "coverage_of.hpp"
#include "keyhour/room/scene.hpp"

namespace keyhour::room {

bool Scene::may_be_shaded(std::size_t mark, std::size_t window, Point3 sun) const noexcept {
    const Opening& o = openings_[window];
    Beam beam;
    const auto& outside = o.before[mark].outside;
    if (outside.empty() || !make_beam(window, sun, beam)) return false;
    const Box2 reach =
        common(silhouette_bounds(o.frame, beam, room_.marks[mark], o.marks[mark]), beam.open);
    return std::any_of(outside.begin(), outside.end(), [&](std::size_t i) {
        return shadow_within(o.outside[i], beam, reach).n >= 3;
    });
}

double Scene::coverage(std::size_t mark, std::size_t window, Point3 sun) const {
    Beam beam;
    if (!make_beam(window, sun, beam)) return 0;
    std::vector<Convex> covers;
    return coverage_of(openings_[window], mark, room_.marks[mark], beam, covers);
}

}  // namespace keyhour::room
