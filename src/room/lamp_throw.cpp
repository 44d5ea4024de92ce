#include "keyhour/room/lamp_throw.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "losses.hpp"
#include "patch_maker.hpp"
#include "vectors.hpp"

namespace keyhour::room {
namespace {

/// Nearer to the lamp's own plane than this nothing is projected.
constexpr double nearest_m = 1e-6;

/// A plane square to the line from the lamp to a mark, one metre from the lamp.
class SightPlane {
public:
    /// @pre the mark does not lie straight below or above the lamp: a wall stands between
    SightPlane(Point3 lamp, Point3 centre) noexcept
        : lamp_{lamp},
          forward_{unit(centre - lamp)},
          right_{unit(cross3(forward_, {0, 0, 1}))},
          up_{cross3(right_, forward_)} {}
    [[nodiscard]] double depth(Point3 p) const noexcept { return dot(p - lamp_, forward_); }
    [[nodiscard]] Point2 seen(Point3 p) const noexcept {
        const Point3 d = p - lamp_;
        const double t = 1 / std::max(dot(d, forward_), nearest_m);
        return {t * dot(d, right_), t * dot(d, up_)};
    }
    /// An outline of the window's inner plane, whose x runs to the right as seen from inside, here
    /// as seen from outside: turned about.
    [[nodiscard]] Convex seen(const Convex& part) const noexcept {
        Convex out;
        for (int i = part.n; i-- > 0;) {
            const Point2 q = seen(Point3{part.x[i], 0, part.y[i]});
            out.add(q.x, q.y);
        }
        return out;
    }

private:
    Point3 lamp_, forward_, right_, up_;
};

Box2 bounds_of(const Point2* p, int n) noexcept {
    Box2 b = no_box;
    for (int i = 0; i < n; ++i)
        b.grow_to(p[i]);
    return b;
}

/// A sphere as the lamp sees it: a disc in the sight plane.
class DiscFromLamp {
public:
    /// @pre the lamp stands outside the sphere
    DiscFromLamp(const PointRays& rays, Point3 centre, double radius) noexcept
        : rays_{rays}, sight_{rays.lamp, centre}, depth_{sight_.depth(centre)} {
        radius_ = std::tan(std::asin(std::min(radius / depth_, 0.999)));
        Point2 p[8];  // of the cube around the sphere
        int n = 0;
        for (const double i : {-radius, radius})
            for (const double j : {-radius, radius})
                for (const double k : {-radius, radius})
                    p[n++] = rays.seen({centre.x + i, std::min(centre.y + j, 0.0)}, centre.z + k);
        bounds_ = bounds_of(p, n);
    }
    [[nodiscard]] const Box2& box() const noexcept { return bounds_; }
    [[nodiscard]] double whole() const noexcept { return std::numbers::pi * radius_ * radius_; }
    [[nodiscard]] double operator()(const Convex& part) const noexcept {
        return area_in_disc(sight_.seen(part), radius_);
    }
    /// Shadow of what lies nearer the lamp than the sphere's middle.
    [[nodiscard]] Convex shadow_before(const UprightPiece& piece) const noexcept {
        Point2 p[2 * Convex::capacity];
        int n = 0;
        const auto add_edge = [&](Point3 from, Point3 to) {
            const double df = depth_ - sight_.depth(from), dt = depth_ - sight_.depth(to);
            if (df > 0) p[n++] = rays_.seen({from.x, from.y}, from.z);
            if ((df > 0) != (dt > 0)) {
                const Point3 q = from + df / (df - dt) * (to - from);
                p[n++] = rays_.seen({q.x, q.y}, q.z);
            }
        };
        for (std::size_t i = 0, j = piece.footprint.size() - 1; i < piece.footprint.size();
             j = i++) {
            const Point2 a = piece.footprint[j], b = piece.footprint[i];
            add_edge({a.x, a.y, piece.bottom}, {b.x, b.y, piece.bottom});
            add_edge({b.x, b.y, piece.top}, {a.x, a.y, piece.top});
            add_edge({a.x, a.y, piece.bottom}, {a.x, a.y, piece.top});
        }
        return hull(p, n);
    }

private:
    const PointRays& rays_;
    SightPlane sight_;
    double depth_, radius_ = 0;
    Box2 bounds_;
};

/// One of the faces of a box that the lamp sees.
class FaceFromLamp {
public:
    /// @param normal  unit, out of the box
    FaceFromLamp(const PointRays& rays, const SightPlane& sight,
                 const std::array<Point3, 4>& corners, Point3 normal) noexcept
        : rays_{rays}, sight_{sight}, normal_{normal}, plane_{dot(normal, corners[0])} {
        Point2 p[4], q[4];
        for (std::size_t i = 0; i < 4; ++i) {
            p[i] = rays.seen({corners[i].x, corners[i].y}, corners[i].z);
            q[i] = sight.seen(corners[i]);
        }
        bounds_ = bounds_of(p, 4);
        outline_ = hull(q, 4);
    }
    [[nodiscard]] const Box2& box() const noexcept { return bounds_; }
    [[nodiscard]] double whole() const noexcept { return area(outline_); }
    [[nodiscard]] double operator()(const Convex& part) const noexcept {
        return area(clip(sight_.seen(part), outline_));
    }
    /// Shadow of what lies on the lamp's side of the face's plane.
    [[nodiscard]] Convex shadow_before(const UprightPiece& piece) const {
        constexpr double touching_m = 1e-9;  // what ends in the face's plane does not shade it
        UprightPiece part = piece;
        if (normal_.z > 0) part.bottom = std::max(piece.bottom, plane_);
        if (normal_.z < 0) part.top = std::min(piece.top, -plane_);
        if (normal_.z == 0) part = clipped(piece, -normal_.x, -normal_.y, -(plane_ + touching_m));
        if (part.footprint.size() < 2 || part.top <= part.bottom + touching_m) return {};
        return shadow(part, rays_);
    }

private:
    const PointRays& rays_;
    const SightPlane& sight_;
    Point3 normal_;
    double plane_;
    Convex outline_;
    Box2 bounds_;
};

Convex outline_of(const std::array<double, 4>& pane) noexcept {
    return outline(Box2{pane[0], pane[1], pane[2], pane[3]});
}

}  // namespace

LampThrow::LampThrow(const Scene& scene, std::size_t window, Point3 lamp)
    : scene_{scene}, window_{window} {
    const auto& o = PatchMaker::opening(scene, window);
    const Point2 level = Point2{lamp.x, lamp.y} - o.frame.left_corner;
    lamp_ = {dot(level, o.frame.u), dot(level, o.frame.n), lamp.z};
    if (lamp_.y <= o.reveal + nearest_m) return;
    const PointRays rays{lamp_, {}};
    const Point2 low = rays.seen({o.left, o.reveal}, o.sill),
                 high = rays.seen({o.right, o.reveal}, o.head);
    left_ = std::max(o.left, low.x);
    right_ = std::min(o.right, high.x);
    sill_ = std::max(o.sill, low.y);
    head_ = std::min(o.head, high.y);
    enters_ = left_ < right_ && sill_ < head_;
    for (const UprightPiece& piece : o.outside)
        if (const UprightPiece near = clipped(piece, 0, 1, lamp_.y - nearest_m);
            near.footprint.size() >= 3)
            outside_.push_back(near);
}

/// Clear glass in the inner plane: left, right, low, high.
std::vector<std::array<double, 4>> LampThrow::panes() const {
    const auto& o = PatchMaker::opening(scene_, window_);
    const PointRays rays{lamp_, {}};
    std::vector<std::array<double, 4>> out;
    for (const auto& [u0, u1] : o.panes_u)
        for (const auto& [z0, z1] : o.panes_z) {
            const Point2 low = rays.seen({u0, o.bar_plane}, z0),
                         high = rays.seen({u1, o.bar_plane}, z1);
            const Box2 pane = common({low.x, high.x, low.y, high.y}, {left_, right_, sill_, head_});
            if (!pane.is_empty()) out.push_back({pane.x0, pane.x1, pane.y0, pane.y1});
        }
    return out;
}

double LampThrow::open_share() const {
    const room::Window& w = scene_.room().windows[window_];
    const PointRays rays{lamp_, {left_, right_, sill_, head_}};
    if (!enters_) return 0;
    std::vector<Convex> covers;
    for (const UprightPiece& piece : outside_)
        if (const Convex c = shadow_within(piece, rays, rays.open); c.n >= 3) covers.push_back(c);
    double sum = 0;
    for (const auto& pane : panes())
        sum += uncovered(outline_of(pane), covers.data(), static_cast<int>(covers.size()),
                         [](const Convex& c) { return area(c); });
    return std::clamp(sum / (w.width_m * w.height_m), 0.0, 1.0);
}

std::vector<Patch> LampThrow::patches(double face_diameter_m) const {
    if (!enters_) return {};
    const PointRays rays{lamp_, {left_, right_, sill_, head_}};
    return PatchMaker::Of<PointRays>{scene_, window_, rays, outside_}.make(
        [&](Point2 inside) { return edge_width(face_diameter_m, inside); });
}

std::optional<Patch> LampThrow::on_ceiling(double face_diameter_m) const {
    if (!enters_) return std::nullopt;
    const PointRays rays{lamp_, {left_, right_, sill_, head_}};
    Patch patch = PatchMaker::Of<PointRays>{scene_, window_, rays, outside_}.make_on_ceiling(
        [&](Point2 inside) { return edge_width(face_diameter_m, inside); });
    if (patch.outlines.empty()) return std::nullopt;
    return patch;
}

/// Soft edge at a point (u, w) inside.
double LampThrow::edge_width(double face_diameter_m, Point2 inside) const {
    const double reveal = scene_.room().windows[window_].reveal_m;
    return face_diameter_m * (reveal - inside.y) / (lamp_.y - reveal);
}

template <class Each>
void LampThrow::for_each_silhouette(std::size_t mark, const Each& each) const {
    const auto& o = PatchMaker::opening(scene_, window_);
    const Mark& m = scene_.room().marks[mark];
    const PointRays rays{lamp_, {left_, right_, sill_, head_}};
    const Point3 centre{o.marks[mark].x, o.marks[mark].y, m.height_m};
    if (!m.box_m) return each(DiscFromLamp{rays, centre, m.radius_m});
    const auto& size = *m.box_m;
    // Half the box along the plan's axes, in the window's.
    const Point3 half[3] = {(size[0] / 2) * Point3{o.frame.u.x, o.frame.n.x, 0},
                            (size[1] / 2) * Point3{o.frame.u.y, o.frame.n.y, 0},
                            {0, 0, size[2] / 2}};
    const SightPlane sight{lamp_, centre};
    for (int i = 0; i < 3; ++i)
        for (const double side : {-1.0, 1.0}) {
            const Point3 out = side * half[i], middle = centre + out;
            if (dot(lamp_ - middle, out) <= 0) continue;
            const Point3 a = half[(i + 1) % 3], b = half[(i + 2) % 3];
            const std::array<Point3, 4> corners{middle - a - b, middle + a - b, middle + a + b,
                                                middle - a + b};
            each(FaceFromLamp{rays, sight, corners, unit(out)});
        }
}

namespace {

/// Calls `each(piece, shadow)` for what may stand between silhouette and lamp within `reach`.
template <class Opening, class Silhouette, class Each>
void for_each_shading_piece(const Opening& o, const std::vector<UprightPiece>& outside,
                            const PointRays& rays, const Silhouette& silhouette, const Box2& reach,
                            const Each& each) {
    for (const UprightPiece& piece : outside)
        if (!common(shadow_bounds(piece, rays), reach).is_empty()) each(piece, shadow(piece, rays));
    for (const auto* pieces : {&o.objects, &o.walls})
        for (const UprightPiece& piece : *pieces)
            if (!common(shadow_bounds(piece, rays), reach).is_empty())
                each(piece, silhouette.shadow_before(piece));
}

}  // namespace

template <class Silhouette>
void LampThrow::judge(const Silhouette& silhouette, double& lit, double& whole) const {
    whole += silhouette.whole();
    const PointRays rays{lamp_, {left_, right_, sill_, head_}};
    const Box2 reach = common(silhouette.box(), rays.open);
    std::vector<Convex> covers;  // no memory is taken while it stays empty
    for_each_shading_piece(PatchMaker::opening(scene_, window_), outside_, rays, silhouette, reach,
                           [&](const UprightPiece&, const Convex& c) {
                               if (const Convex part = clip(c, reach); part.n >= 3)
                                   covers.push_back(part);
                           });
    for (const auto& [x0, x1, y0, y1] : panes()) {
        const Box2 seen = common({x0, x1, y0, y1}, silhouette.box());
        if (!seen.is_empty())
            lit += uncovered(outline(seen), covers.data(), static_cast<int>(covers.size()),
                             silhouette);
    }
}

double LampThrow::coverage(std::size_t mark) const {
    if (!enters_ || PatchMaker::opening(scene_, window_).marks[mark].y >= 0) return 0;
    double lit = 0, whole = 0;
    for_each_silhouette(mark, [&](const auto& s) { judge(s, lit, whole); });
    return std::clamp(lit / whole, 0.0, 1.0);
}

template <class Silhouette>
void LampThrow::collect(const Silhouette& silhouette, std::vector<Loss>& out, double& whole) const {
    const PointRays rays{lamp_, {left_, right_, sill_, head_}};
    const Box2 box = silhouette.box();
    whole += silhouette.whole();
    add_opening(rays.open, silhouette, out);
    const Box2 reach = common(box, rays.open);
    if (reach.is_empty()) return;
    double in_panes = 0;
    for (const auto& [x0, x1, y0, y1] : panes())
        if (const Box2 seen = common({x0, x1, y0, y1}, reach); !seen.is_empty())
            in_panes += silhouette(outline(seen));
    add_loss(out, {Edge::bar, 0}, silhouette(outline(reach)) - in_panes);
    CoversByEdge covers;
    for_each_shading_piece(PatchMaker::opening(scene_, window_), outside_, rays, silhouette, reach,
                           [&](const UprightPiece& piece, const Convex& c) {
                               covers.add(piece.edge, clip(c, reach));
                           });
    covers.for_each_taken(outline(reach), silhouette,
                          [&](LimitingEdge edge, double area) { add_loss(out, edge, area); });
}

std::vector<Loss> LampThrow::losses(std::size_t mark) const {
    const auto& o = PatchMaker::opening(scene_, window_);
    const double middle = (o.left + o.right) / 2;
    if (lamp_.y <= o.reveal + nearest_m || o.marks[mark].y >= 0)
        return {{{lamp_.x > middle ? Edge::right_jamb : Edge::left_jamb, 0}, 1}};
    std::vector<Loss> out;
    double whole = 0;
    for_each_silhouette(mark, [&](const auto& s) { collect(s, out, whole); });
    make_fractions(out, whole);
    return out;
}

std::vector<ThrownPart> LampThrow::parts(int across, int up) const {
    std::vector<ThrownPart> out;
    if (!enters_) return out;
    const auto& o = PatchMaker::opening(scene_, window_);
    const PointRays rays{lamp_, {left_, right_, sill_, head_}};
    std::vector<Convex> covers;
    for (const UprightPiece& piece : outside_)
        if (const Convex c = shadow_within(piece, rays, rays.open); c.n >= 3) covers.push_back(c);
    const auto open = panes();
    const double du = (right_ - left_) / across, dz = (head_ - sill_) / up;
    for (int i = 0; i < across; ++i)
        for (int k = 0; k < up; ++k) {
            const Box2 part{left_ + i * du, left_ + (i + 1) * du, sill_ + k * dz,
                            sill_ + (k + 1) * dz};
            double clear_m2 = 0;
            for (const auto& [x0, x1, y0, y1] : open)
                if (const Box2 seen = common({x0, x1, y0, y1}, part); !seen.is_empty())
                    clear_m2 +=
                        uncovered(outline(seen), covers.data(), static_cast<int>(covers.size()),
                                  [](const Convex& c) { return area(c); });
            if (clear_m2 <= 0) continue;
            const Point3 middle{(part.x0 + part.x1) / 2, 0, (part.y0 + part.y1) / 2};
            const Point3 d = middle - lamp_;
            const double far = std::sqrt(dot(d, d));
            const Point2 in_plan = (d.x / far) * o.frame.u + (d.y / far) * o.frame.n;
            const Point2 at = o.frame.left_corner + middle.x * o.frame.u;
            ThrownPart p;
            p.toward = {in_plan.x, in_plan.y, d.z / far};
            p.through = {at.x, at.y, middle.z};
            p.incidence_cosine = -d.y / far;
            p.solid_angle_sr = clear_m2 * p.incidence_cosine / (far * far);
            out.push_back(p);
        }
    return out;
}

}  // namespace keyhour::room
