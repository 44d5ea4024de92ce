#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "beam.hpp"
#include "keyhour/room/scene.hpp"

namespace keyhour::room {
namespace {

template <class Beam>
Point2 along_ray(const Beam& beam, Point3 q) noexcept {
    return {q.x - q.y * beam.kx, q.z - q.y * beam.kz};
}

/// A sphere, seen along the ray: a disc. Outlines come in the window's plane, about its centre.
template <class Beam>
class Disc {
public:
    /// @param centre  u, w, z
    Disc(const Beam& beam, Point3 centre, double radius) noexcept
        : beam_{beam},
          depth_{dot(centre, Point3{beam.su, beam.sw, beam.sz})},
          centre_{along_ray(beam, centre)},
          radius_{radius} {
        const double level = std::sqrt(beam.su * beam.su + beam.sw * beam.sw);
        xu_ = beam.sw / level;
        yu_ = -beam.su * beam.sz / level;
        yz_ = level;
        const double ru = radius * std::sqrt(1 + beam.kx * beam.kx);
        const double rz = radius * std::sqrt(1 + beam.kz * beam.kz);
        bounds_ = {centre_.x - ru, centre_.x + ru, centre_.y - rz, centre_.y + rz};
    }
    [[nodiscard]] const Box2& box() const noexcept { return bounds_; }
    /// Area square to the ray.
    [[nodiscard]] double whole() const noexcept { return std::numbers::pi * radius_ * radius_; }
    [[nodiscard]] double operator()(const Convex& part) const noexcept {
        Convex c;
        for (int i = 0; i < part.n; ++i) {
            const double u = part.x[i] - centre_.x, z = part.y[i] - centre_.y;
            c.add(u * xu_, u * yu_ + z * yz_);
        }
        return area_in_disc(c, radius_);
    }
    /// Shadow of what lies sunward of the plane through the centre, square to the ray: from there
    /// to the sphere's front the ray runs inside the sphere.
    [[nodiscard]] Convex shadow_before(const UprightPiece& piece) const noexcept {
        Point2 p[2 * Convex::capacity];
        int n = 0;
        const auto depth = [&](Point3 q) {
            return q.x * beam_.su + q.y * beam_.sw + q.z * beam_.sz - depth_;
        };
        const auto add_edge = [&](Point3 from, Point3 to) {
            const double df = depth(from), dt = depth(to);
            if (df > 0) p[n++] = along_ray(beam_, from);
            if ((df > 0) != (dt > 0))
                p[n++] = along_ray(beam_, from + df / (df - dt) * (to - from));
        };
        for (std::size_t i = 0, j = piece.footprint.size() - 1; i < piece.footprint.size();
             j = i++) {
            const Point2 a = piece.footprint[j], b = piece.footprint[i];
            add_edge({a.x, a.y, piece.bottom}, {b.x, b.y, piece.bottom});
            add_edge({b.x, b.y, piece.top}, {a.x, a.y, piece.top});
            add_edge({a.x, a.y, piece.bottom}, {a.x, a.y, piece.top});
        }
        return n < 3 ? Convex{} : hull(p, n);
    }

private:
    const Beam& beam_;
    double depth_;  // of the centre along the ray
    Point2 centre_;
    double radius_;
    double xu_, yu_, yz_;  // window plane -> plane square to the ray
    Box2 bounds_;
};

/// One of the three faces of a box that the sun sees.
template <class Beam>
class BoxFace {
public:
    /// @param corner  of the face; @param a, b  its two edges; @param normal  towards the sun's
    /// side
    BoxFace(const Beam& beam, Point3 corner, Point3 a, Point3 b, Point3 normal) noexcept
        : beam_{beam}, normal_{normal}, plane_{dot(normal, corner)} {
        Point2 p[4] = {along_ray(beam, corner), along_ray(beam, corner + a),
                       along_ray(beam, corner + b), along_ray(beam, corner + a + b)};
        outline_ = hull(p, 4);
        bounds_ = bounds(outline_);
    }
    [[nodiscard]] const Box2& box() const noexcept { return bounds_; }
    /// Area in the window's plane.
    [[nodiscard]] double whole() const noexcept { return area(outline_); }
    [[nodiscard]] double operator()(const Convex& part) const noexcept {
        return area(clip(part, outline_));
    }
    /// Shadow of what lies on the sun's side of the face's plane.
    [[nodiscard]] Convex shadow_before(const UprightPiece& piece) const {
        constexpr double hair_m = 1e-9;  // what ends in the face's plane does not shade it
        if (normal_.z > 0) {
            UprightPiece above = piece;
            above.bottom = std::max(piece.bottom, plane_);
            return above.top > above.bottom + hair_m ? shadow(above, beam_) : Convex{};
        }
        const UprightPiece part = clipped(piece, -normal_.x, -normal_.y, -(plane_ + hair_m));
        return part.footprint.size() < 2 ? Convex{} : shadow(part, beam_);
    }

private:
    const Beam& beam_;
    Point3 normal_;
    double plane_;
    Convex outline_;
    Box2 bounds_;
};

/// Calls `each(face)` for the faces of a box mark that the sun sees; together they are its
/// silhouette. @param at  u, w of its centre
template <class Beam, class Each>
void for_each_face(const WallFrame& f, const Beam& beam, const Mark& mark, Point2 at,
                   const Each& each) {
    const auto& size = *mark.box_m;
    // The plan's x and y in the window's axes.
    const Point3 edges[3] = {
        size[0] * Point3{f.u.x, f.n.x, 0}, size[1] * Point3{f.u.y, f.n.y, 0}, {0, 0, size[2]}};
    const Point3 centre{at.x, at.y, mark.height_m};
    for (int i = 0; i < 3; ++i) {
        const Point3 a = edges[(i + 1) % 3], b = edges[(i + 2) % 3];
        const double towards = dot(edges[i], Point3{beam.su, beam.sw, beam.sz});
        if (towards == 0) continue;
        const Point3 out = (towards > 0 ? 0.5 : -0.5) * edges[i];
        const Point3 normal = 1 / std::sqrt(dot(out, out)) * out;
        each(BoxFace<Beam>{beam, centre + out - 0.5 * (a + b), a, b, normal});
    }
}

/// A box seen along the ray, in the window's plane: a middle and the halves of its three edges. Of
/// the edges along x and y none points to the left.
struct BoxSides {
    Point2 middle, along_x, along_y, upright;
};
template <class Beam>
BoxSides box_sides(const WallFrame& f, const Beam& beam, const Mark& mark, Point2 at) noexcept {
    const auto& size = *mark.box_m;
    const auto rightward = [](Point2 p) { return p.x < 0 ? -1 * p : p; };
    return {along_ray(beam, {at.x, at.y, mark.height_m}),
            rightward((size[0] / 2) * along_ray(beam, {f.u.x, f.n.x, 0})),
            rightward((size[1] / 2) * along_ray(beam, {f.u.y, f.n.y, 0})),
            {0, size[2] / 2}};
}

/// The outline of its eight corners. Enough where nothing inside stands before it. The edges
/// follow one another by their slope (a zonogon), the upright last.
Convex outline(const BoxSides& box) noexcept {
    Point2 a = box.along_x, b = box.along_y;
    if (a.x * b.y < a.y * b.x) std::swap(a, b);
    Convex c;
    Point2 p = box.middle - a - b - box.upright;
    for (const double way : {2.0, -2.0})
        for (const Point2 side : {a, b, box.upright}) {
            c.add(p.x, p.y);
            p = p + way * side;
        }
    return c;
}

Box2 bounds(const BoxSides& box) noexcept {
    const double x = box.along_x.x + box.along_y.x;
    const double y = std::abs(box.along_x.y) + std::abs(box.along_y.y) + box.upright.y;
    return {box.middle.x - x, box.middle.x + x, box.middle.y - y, box.middle.y + y};
}

template <class Pieces, class Each>
void for_each_of(const Pieces& pieces, const std::vector<std::uint32_t>& chosen, const Each& each) {
    for (const std::uint32_t i : chosen)
        each(pieces[i]);
}

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

/// Calls `each(piece, shadow)` for what may stand between the silhouette and the sun within `box`.
template <class Opening, class Obstacles, class Beam, class Silhouette, class Each>
void for_each_obstacle(const Opening& o, const Obstacles& before, const Beam& beam,
                       const Silhouette& silhouette, const Box2& box, const Each& each) {
    for_each_of(o.outside, before.outside, [&](const UprightPiece& piece) {
        if (!common(shadow_bounds(piece, beam), box).is_empty()) each(piece, shadow(piece, beam));
    });
    const auto inside = [&](const UprightPiece& piece) {
        if (common(shadow_bounds(piece, beam), box).is_empty()) return;
        each(piece, silhouette.shadow_before(piece));
    };
    for_each_of(o.objects, before.objects, inside);
    for_each_of(o.walls, before.walls, inside);
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

    const double du = o.bar_plane * beam.kx, dz = o.bar_plane * beam.kz;
    double lit = 0;
    for (const auto& [u0, u1] : o.panes_u)
        for (const auto& [z0, z1] : o.panes_z) {
            const Box2 pane = common({u0 - du, u1 - du, z0 - dz, z1 - dz}, beam.open);
            const Box2 seen = common(pane, silhouette.box());
            if (seen.is_empty()) continue;
            if (covers.empty() && pane.contains(silhouette.box())) return silhouette.whole();
            lit += covers.empty() ? silhouette(outline(seen))
                                  : uncovered(outline(seen), covers.data(),
                                              static_cast<int>(covers.size()), silhouette);
        }
    return lit;
}

double Scene::box_coverage(const Opening& o, const Obstacles& before, const Beam& beam,
                           const Convex& box) const {
    const double du = o.bar_plane * beam.kx, dz = o.bar_plane * beam.kz;
    const Box2 reach = bounds(box);
    const auto covers = outside_shadows(o, before, beam, common(reach, beam.open));
    const auto measure = [](const Convex& part) { return area(part); };
    double lit = 0;
    for (const auto& [u0, u1] : o.panes_u)
        for (const auto& [z0, z1] : o.panes_z) {
            const Box2 pane = common({u0 - du, u1 - du, z0 - dz, z1 - dz}, beam.open);
            if (common(pane, reach).is_empty()) continue;
            if (covers.empty() && pane.contains(reach)) return 1;
            const Convex part = clip(box, pane);
            lit += covers.empty()
                       ? area(part)
                       : uncovered(part, covers.data(), static_cast<int>(covers.size()), measure);
        }
    return std::clamp(lit / area(box), 0.0, 1.0);
}

bool Scene::may_be_shaded(std::size_t mark, std::size_t window, Point3 sun) const noexcept {
    const Opening& o = openings_[window];
    Beam beam;
    const auto& outside = o.before[mark].outside;
    if (outside.empty() || !make_beam(window, sun, beam)) return false;
    const Mark& m = room_.marks[mark];
    const Point2 at = o.marks[mark];
    Box2 box;
    if (m.box_m)
        box = bounds(box_sides(o.frame, beam, m, at));
    else
        box = Disc<Beam>{beam, {at.x, at.y, m.height_m}, m.radius_m}.box();
    const Box2 reach = common(box, beam.open);
    if (reach.is_empty()) return false;
    return std::any_of(outside.begin(), outside.end(), [&](std::size_t i) {
        const UprightPiece& piece = o.outside[i];
        return !common(shadow_bounds(piece, beam), reach).is_empty() &&
               clip(shadow(piece, beam), reach).n >= 3;
    });
}

Touch Scene::touch(std::size_t mark, std::size_t window, Point3 sun, double wanted) const noexcept {
    if (mark == no_mark) return Beam::touch_of_opening(*this, window, sun);
    Touch out;
    Beam beam;
    const Opening& o = openings_[window];
    const bool passes = make_beam(window, sun, beam);
    if (!passes && beam.sw <= 0) {
        out.beyond = 1 << 11;
        return out;
    }
    const Mark& m = room_.marks[mark];
    const Point2 at = o.marks[mark];
    const Box2 box = m.box_m ? bounds(box_sides(o.frame, beam, m, at))
                             : Disc<Beam>{beam, {at.x, at.y, m.height_m}, m.radius_m}.box();
    // An edge beyond the middle of a silhouette, which is the same on both sides of it, takes half.
    const Point2 middle{(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
    const Box2 core = wanted > 0.5 ? Box2{middle.x, middle.x, middle.y, middle.y} : box;
    int bit = 0;
    const auto add = [&](bool is_beyond) {
        if (is_beyond) out.beyond = static_cast<std::uint16_t>(out.beyond | 1 << bit);
        ++bit;
    };
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
    if (!passes || out.beyond != 0) return out;

    const double du = o.bar_plane * beam.kx, dz = o.bar_plane * beam.kz;
    int index = 0;
    for (const auto& [u0, u1] : o.panes_u)
        for (const auto& [z0, z1] : o.panes_z) {
            if (common({u0 - du, u1 - du, z0 - dz, z1 - dz}, beam.open).contains(box))
                out.pane = index;
            ++index;
        }

    int piece_index = 0;
    const auto next_slot = [&] {
        const int slot = std::min(piece_index++, 15);
        const std::uint64_t first = std::uint64_t{1} << (4 * slot);
        if ((out.pieces & first) == 0) out.clear |= first * 15;
        out.pieces |= first;
        return slot;
    };
    const auto see = [&](const UprightPiece& piece, bool is_outside) {
        const int slot = next_slot();
        const std::uint64_t first = std::uint64_t{1} << (4 * slot);
        if (is_outside) out.outside |= first;
        const Box2 s = shadow_bounds(piece, beam);
        const std::uint64_t sides = (s.x1 <= box.x0 ? 1U : 0U) | (s.x0 >= box.x1 ? 2U : 0U) |
                                    (s.y0 >= box.y1 ? 4U : 0U) | (s.y1 <= box.y0 ? 8U : 0U);
        out.clear &= ~(first * (15 - sides));
        if (is_outside && sides == 0 && piece_index <= 15 && holds(shadow(piece, beam), box))
            out.hidden = static_cast<std::uint16_t>(out.hidden | 1 << slot);
    };
    const Obstacles& before = o.before[mark];
    for_each_of(o.outside, before.outside, [&](const UprightPiece& piece) { see(piece, true); });
    const double reach = half_size(m);
    const Point2 sunward{beam.su, beam.sw};
    const double far = -reach * std::sqrt(dot(sunward, sunward));
    const auto see_inside = [&](const UprightPiece& piece) {
        // What lies on the mark's far side meets the ray beyond it.
        const bool is_sunward = std::any_of(piece.footprint.begin(), piece.footprint.end(),
                                            [&](Point2 q) { return dot(q - at, sunward) > far; });
        if (is_sunward)
            see(piece, false);
        else
            next_slot();
    };
    for_each_of(o.objects, before.objects, see_inside);
    for_each_of(o.walls, before.walls, see_inside);
    return out;
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

std::vector<Loss> Scene::losses(std::size_t mark, std::size_t window, Point3 sun) const {
    std::vector<Loss> out;
    const Opening& o = openings_[window];
    Beam beam;
    if (!make_beam(window, sun, beam)) {
        out = opening_losses(window, sun);
        if (beam.sw < 1e-4 || sun.z < 1e-6) return out;
        out.clear();  // in front, but the reveal shuts: judge by the silhouette below
    }
    const Mark& m = room_.marks[mark];
    const Point2 at = o.marks[mark];
    double whole = 0;
    const auto add = [&](LimitingEdge edge, double area) {
        const auto same =
            std::find_if(out.begin(), out.end(), [&](const Loss& l) { return l.edge == edge; });
        if (same != out.end())
            same->fraction += area;
        else
            out.push_back({edge, area});
    };
    const auto collect = [&](const auto& silhouette) {
        const Box2 box = silhouette.box();
        const Convex all = outline(box);
        whole += silhouette.whole();
        const auto lost = [&](double a, double b, double c, Edge edge) {
            add({edge, 0}, silhouette.whole() - silhouette(clip(all, a, b, c)));
        };
        lost(-1, 0, -beam.open.x0, Edge::left_jamb);
        lost(1, 0, beam.open.x1, Edge::right_jamb);
        lost(0, -1, -beam.open.y0, Edge::sill);
        lost(0, 1, beam.open.y1, Edge::head);
        const Box2 reach = common(box, beam.open);
        if (reach.is_empty()) return;
        double in_panes = 0;
        const double du = o.bar_plane * beam.kx, dz = o.bar_plane * beam.kz;
        for (const auto& [u0, u1] : o.panes_u)
            for (const auto& [z0, z1] : o.panes_z) {
                const Box2 pane = common({u0 - du, u1 - du, z0 - dz, z1 - dz}, reach);
                if (!pane.is_empty()) in_panes += silhouette(outline(pane));
            }
        add({Edge::bar, 0}, silhouette(outline(reach)) - in_panes);
        CoversByEdge covers;
        for_each_obstacle(o, o.before[mark], beam, silhouette, reach,
                          [&](const UprightPiece& piece, const Convex& c) {
                              covers.add(piece.edge, clip(c, reach));
                          });
        covers.for_each_taken(outline(reach), silhouette, add);
    };
    if (m.box_m)
        for_each_face(o.frame, beam, m, at, collect);
    else
        collect(Disc<Beam>{beam, {at.x, at.y, m.height_m}, m.radius_m});
    for (Loss& loss : out)
        loss.fraction = std::min(1.0, loss.fraction / whole);
    std::erase_if(out, [](const Loss& loss) { return loss.fraction <= 1e-9; });
    return out;
}

}  // namespace keyhour::room
