#include <algorithm>

#include "beam.hpp"
#include "keyhour/room/scene.hpp"

namespace keyhour::room {

Touch Scene::Beam::touch_of_opening(const Scene& scene, std::size_t window, Point3 sun) noexcept {
    Touch out;
    Beam beam;
    const Opening& o = scene.openings_[window];
    const bool passes = scene.make_beam(window, sun, beam);
    if (!passes && beam.sw <= 0) {
        out.beyond = 1 << 3;
        return out;
    }
    const double width = o.right - o.left, height = o.head - o.sill;
    const auto add = [&](int bit, bool shuts) {
        if (shuts) out.beyond = static_cast<std::uint16_t>(out.beyond | 1 << bit);
    };
    add(0, o.reveal * beam.kx >= width);
    add(1, -o.reveal * beam.kx >= width);
    add(2, o.reveal * beam.kz >= height);
    if (!passes || out.beyond != 0) return out;

    constexpr double enough_m = 0.012;  // both ways: more than the smallest patch
    const double du = o.bar_plane * beam.kx, dz = o.bar_plane * beam.kz;
    int index = 0;
    for (const auto& [u0, u1] : o.panes_u)
        for (const auto& [z0, z1] : o.panes_z) {
            const Box2 pane = common({u0 - du, u1 - du, z0 - dz, z1 - dz}, beam.open);
            if (out.pane < 0 && pane.x1 - pane.x0 > enough_m && pane.y1 - pane.y0 > enough_m)
                out.pane = index;
            ++index;
        }

    // The inner rectangle and the outer one, seen along the ray: what passes meets both.
    const Box2 inner{o.left, o.right, o.sill, o.head};
    const double ru = o.reveal * beam.kx, rz = o.reveal * beam.kz;
    const Box2 both{std::min(o.left, o.left - ru), std::max(o.right, o.right - ru), o.sill - rz,
                    o.head};
    for (std::size_t i = 0; i < o.outside.size(); ++i) {
        const std::size_t slot = std::min<std::size_t>(i, 15);
        const std::uint64_t first = std::uint64_t{1} << (4 * slot);
        if ((out.pieces & first) == 0) out.clear |= first * 15;
        out.pieces |= first;
        out.outside |= first;
        const Box2 s = shadow_bounds(o.outside[i], beam);
        const std::uint64_t sides = (s.x1 <= both.x0 ? 1U : 0U) | (s.x0 >= both.x1 ? 2U : 0U) |
                                    (s.y0 >= both.y1 ? 4U : 0U) | (s.y1 <= both.y0 ? 8U : 0U);
        out.clear &= ~(first * (15 - sides));
        if (sides == 0 && i < 15 && holds(shadow(o.outside[i], beam), inner))
            out.hidden = static_cast<std::uint16_t>(out.hidden | 1 << slot);
    }
    return out;
}

}  // namespace keyhour::room
