#include <algorithm>
#include <array>
#include <span>
#include <tuple>

#include "beam.hpp"
#include "keyhour/room/scene.hpp"

namespace keyhour::room {
namespace {

constexpr double enough_m = 0.012;  // both ways: more than the smallest patch

/// The line along the top of a piece's i-th side, in one beam. Footprints turn to the left and
/// sides farther off are seen lower: where it is an edge of the shadow, this lies on its right.
struct PartingLine {
    Point2 a, along;
    bool is_edge = false;

    template <class Beam>
    PartingLine(const UprightPiece& piece, std::size_t i, const Beam& beam) noexcept {
        const auto& ring = piece.footprint;
        a = beam.seen(ring[i], piece.top);
        along = beam.seen(ring[(i + 1) % ring.size()], piece.top) - a;
        constexpr double rounding = 1e-9;
        is_edge = std::ranges::all_of(ring, [&](Point2 q) {
            return left(beam.seen(q, piece.bottom)) < rounding &&
                   left(beam.seen(q, piece.top)) < rounding;
        });
    }
    [[nodiscard]] double left(Point2 p) const noexcept {
        return along.x * (p.y - a.y) - along.y * (p.x - a.x);
    }
    [[nodiscard]] bool clears(const Box2& box) const noexcept {
        for (const double x : {box.x0, box.x1})
            for (const double y : {box.y0, box.y1})
                if (left({x, y}) <= 0) return false;
        return true;
    }
};

constexpr std::size_t most_suns = 5;

using Spots = std::array<Box2, 16>;

/// Of spots, those from which a piece's shadow lies on one and the same side in all beams.
/// @param asked  bits of the spots that are asked about
template <class Beam>
unsigned clear_of(const UprightPiece& piece, std::span<const Beam> beams, const Spots& spots,
                  unsigned asked) noexcept {
    std::array<unsigned, std::tuple_size_v<Spots>> beside;
    beside.fill(Touch::every_side);
    for (const Beam& beam : beams) {
        const Box2 shadow = shadow_bounds(piece, beam);
        for (std::size_t s = 0; s < spots.size(); ++s)
            beside[s] &= sides(shadow, spots[s]);
    }
    unsigned clear = 0;
    for (std::size_t s = 0; s < spots.size(); ++s)
        if (beside[s] != 0) clear |= asked & 1U << s;
    for (std::size_t i = 0; i < piece.footprint.size() && clear != asked; ++i) {
        unsigned by_side = asked & ~clear;
        for (const Beam& beam : beams) {
            const PartingLine line{piece, i, beam};
            if (!line.is_edge) by_side = 0;
            if (by_side == 0) break;
            for (std::size_t s = 0; s < spots.size(); ++s)
                if ((by_side & 1U << s) != 0 && !line.clears(spots[s])) by_side &= ~(1U << s);
        }
        clear |= by_side;
    }
    return clear;
}

/// Spots of an opening's inner rectangle, close to its edges and between.
template <class Opening>
Spots spots_of(const Opening& o) noexcept {
    constexpr double inset_m = 0.002;
    const double width = o.right - o.left - enough_m - 2 * inset_m;
    const double height = o.head - o.sill - enough_m - 2 * inset_m;
    Spots out;
    std::size_t n = 0;
    for (const double share_z : {0.9, 0.6, 0.4, 0.1})
        for (const double share_u : {0.1, 0.9, 0.4, 0.6}) {
            const double u = o.left + inset_m + share_u * width;
            const double z = o.sill + inset_m + share_z * height;
            out[n++] = {u, u + enough_m, z, z + enough_m};
        }
    return out;
}

/// What one pane leaves open in all beams.
template <class Opening, class Beam>
Box2 open_in_all(const Opening& o, const std::pair<double, double>& across,
                 const std::pair<double, double>& up, std::span<const Beam> beams) noexcept {
    Box2 all{-1e300, 1e300, -1e300, 1e300};
    for (const Beam& b : beams) {
        const double du = o.bar_plane * b.kx, dz = o.bar_plane * b.kz;
        const Box2 pane{across.first - du, across.second - du, up.first - dz, up.second - dz};
        all = common(all, common(pane, b.open));
    }
    return all;
}

}  // namespace

Touch Scene::Beam::touch_of_opening(const Scene& scene, std::size_t window, Point3 sun) noexcept {
    Touch out;
    Beam beam;
    const Opening& o = scene.openings_[window];
    const bool passes = scene.make_beam(window, sun, beam);
    if (beam.sw <= 0) {  // or the sun is down
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
    std::array<Beam, most_suns> beams;
    if (suns.size() > most_suns) return false;
    for (std::size_t k = 0; k < suns.size(); ++k)
        if (!scene.make_beam(window, suns[k], beams[k])) return false;
    const std::span<const Beam> lit_by{beams.data(), suns.size()};
    const auto spots = spots_of(o);
    unsigned lit = 0;  // bits of the spots
    for (const auto& across : o.panes_u)
        for (const auto& up : o.panes_z) {
            const Box2 open = open_in_all(o, across, up, lit_by);
            if (open.is_empty()) continue;
            for (std::size_t i = 0; i < spots.size(); ++i)
                if (open.contains(spots[i])) lit |= 1U << i;
        }
    for (const UprightPiece& piece : o.outside)
        lit = clear_of(piece, lit_by, spots, lit);
    return lit != 0;
}

}  // namespace keyhour::room
