#include "patch_maker.hpp"

namespace keyhour::room {

std::vector<Patch> Scene::patches(std::size_t window, Point3 sun, Angle sun_diameter) const {
    Beam beam;
    if (!make_beam(window, sun, beam)) return {};
    const Opening& o = openings_[window];
    const double edge_to_throw = 2 * tan(sun_diameter / 2);
    return PatchMaker::Of<Beam>{*this, window, beam, o.outside}.make([&](Point2 inside) {
        const double throw_m = (o.reveal - inside.y) / beam.sw;
        return edge_to_throw * throw_m;
    });
}

bool Scene::lands_within(std::size_t window, Point3 sun, Point3 centre, double radius_m) const {
    Beam beam;
    if (!make_beam(window, sun, beam)) return false;
    const auto patches = PatchMaker::Of<Beam>{*this, window, beam, openings_[window].outside,
                                              PatchMaker::Of<Beam>::Reach{centre, radius_m}}
                             .make([](Point2) { return 0.0; });
    return std::any_of(patches.begin(), patches.end(),
                       [&](const Patch& patch) { return distance_to(patch, centre) < radius_m; });
}

}  // namespace keyhour::room
