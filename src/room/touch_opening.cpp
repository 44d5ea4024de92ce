#include <algorithm>
#include <array>
#include <span>

#include "beam.hpp"
#include "keyhour/room/scene.hpp"

namespace keyhour::room {
namespace {

constexpr double enough_m = 0.012;  // both ways: more than the smallest patch

/// Does the line along the top of a piece's i-th side part its shadow from the box?
/// @return  1: the box lies on its left, -1: on its right, 0: it does not
template <class Beam>
int parts(const UprightPiece& piece, std::size_t i, const Beam& beam, const Box2& box) noexcept {
    const auto& ring = piece.footprint;
    const Point2 a = beam.seen(ring[i], piece.top);
    const Point2 along = beam.seen(ring[(i + 1) % ring.size()], piece.top) - a;
    const auto left = [&](Point2 p) { return along.x * (p.y - a.y) - along.y * (p.x - a.x); };
    double low = 0, high = 0;  // of the shadow
    for (const Point2 q : ring)
        for (const double z : {piece.bottom, piece.top}) {
            low = std::min(low, left(beam.seen(q, z)));
            high = std::max(high, left(beam.seen(q, z)));
        }
    constexpr double rounding = 1e-9;
    const int way = high < rounding ? 1 : low > -rounding ? -1 : 0;
    for (const double x : {box.x0, box.x1})
        for (const double y : {box.y0, box.y1})
            if (way * left({x, y}) <= 0) return 0;
    return way;
}

/// Does a piece's shadow lie on one and the same side of the box in all beams?
template <class Beam>
bool stands_clear(const UprightPiece& piece, std::span<const Beam> beams,
                  const Box2& box) noexcept {
    unsigned beside = Touch::every_side;
    for (const Beam& beam : beams)
        beside &= sides(shadow_bounds(piece, beam), box);
    if (beside != 0) return true;
    for (std::size_t i = 0; i < piece.footprint.size(); ++i)
        for (const int way : {1, -1})
            if (std::ranges::all_of(beams,
                                    [&](const Beam& b) { return parts(piece, i, b, box) == way; }))
                return true;
    return false;
}

}  // namespace

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
    out.set_beyond(0, o.reveal * beam.kx >= width);
    out.set_beyond(1, -o.reveal * beam.kx >= width);
    out.set_beyond(2, o.reveal * beam.kz >= height);
    if (!passes || out.beyond != 0) return out;

    int index = 0;
    for_each_pane(o, beam, [&](const Box2& pane) {
        if (out.pane < 0 && pane.x1 - pane.x0 > enough_m && pane.y1 - pane.y0 > enough_m)
            out.pane = index;
        ++index;
    });

    // The inner rectangle and the outer one, seen along the ray: what passes meets both.
    const Box2 inner{o.left, o.right, o.sill, o.head};
    const double ru = o.reveal * beam.kx, rz = o.reveal * beam.kz;
    const Box2 both{std::min(o.left, o.left - ru), std::max(o.right, o.right - ru), o.sill - rz,
                    o.head};
    for (std::size_t i = 0; i < o.outside.size(); ++i) {
        const unsigned beside = sides(shadow_bounds(o.outside[i], beam), both);
        out.add_piece(i, beside, true);
        if (beside == 0 && Touch::can_hide(i) && holds(shadow(o.outside[i], beam), inner))
            out.set_hidden_by(i);
    }
    return out;
}

bool Scene::Beam::lights_a_spot(const Scene& scene, std::size_t window,
                                std::span<const Point3> suns) noexcept {
    const Opening& o = scene.openings_[window];
    constexpr std::size_t most_suns = 5;
    std::array<Beam, most_suns> beams;
    if (suns.size() > most_suns) return false;
    for (std::size_t k = 0; k < suns.size(); ++k)
        if (!scene.make_beam(window, suns[k], beams[k])) return false;
    const std::span<const Beam> lit_by{beams.data(), suns.size()};
    const auto lit = [&](const Box2& spot) {
        const bool is_in_one_pane = std::ranges::any_of(o.panes_u, [&](const auto& across) {
            return std::ranges::any_of(o.panes_z, [&](const auto& up) {
                return std::ranges::all_of(lit_by, [&](const Beam& b) {
                    const double du = o.bar_plane * b.kx, dz = o.bar_plane * b.kz;
                    return common({across.first - du, across.second - du, up.first - dz,
                                   up.second - dz},
                                  b.open)
                        .contains(spot);
                });
            });
        });
        return is_in_one_pane && std::ranges::all_of(o.outside, [&](const UprightPiece& piece) {
                   return stands_clear(piece, lit_by, spot);
               });
    };
    // Spots of the inner rectangle, close to its edges and between.
    constexpr double inset_m = 0.002;
    const double width = o.right - o.left - enough_m - 2 * inset_m;
    const double height = o.head - o.sill - enough_m - 2 * inset_m;
    for (const double share_z : {0.9, 0.6, 0.4, 0.1})
        for (const double share_u : {0.1, 0.9, 0.4, 0.6}) {
            const double u = o.left + inset_m + share_u * width;
            const double z = o.sill + inset_m + share_z * height;
            if (lit({u, u + enough_m, z, z + enough_m})) return true;
        }
    return false;
}

}  // namespace keyhour::room
