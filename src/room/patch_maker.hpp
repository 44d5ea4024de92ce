#pragma once
/// @file
/// Light cut into patches, whatever rays it comes by.

#include <algorithm>
#include <cmath>
#include <optional>
#include <polyclipping/clipper.hpp>
#include <vector>

#include "beam.hpp"
#include "keyhour/room/scene.hpp"

namespace keyhour::room {

using ClipperLib::Path;
using ClipperLib::Paths;

/// The friend of Scene: hands what it has prepared to those that cut light.
class PatchMaker {
public:
    template <class Rays>
    class Of;

    [[nodiscard]] static const auto& opening(const Scene& scene, std::size_t window) noexcept {
        return scene.openings_[window];
    }
};

/// Cuts the light of one window into patches. All outlines are projected along the rays into the
/// window's inner plane; there a library does the booleans, on whole numbers of about 1e-8 m.
/// `Rays` is a Scene::Beam or PointRays.
template <class Rays>
class PatchMaker::Of {
public:
    /// Faces that lie farther off than this are passed over. For parallel rays only.
    struct Reach {
        Point3 centre;
        double radius_m = 0;
    };

    /// @param outside  what stands before the opening, between it and the source
    Of(const Scene& scene, std::size_t window, const Rays& beam,
       const std::vector<UprightPiece>& outside, std::optional<Reach> reach = std::nullopt)
        : room_{scene.room_},
          opening_{scene.openings_[window]},
          outside_{outside},
          window_{window},
          beam_{beam},
          reach_{reach},
          // Within the range where the library needs no wide products.
          scale_{5e8 / std::max(beam.open.x1 - beam.open.x0, beam.open.y1 - beam.open.y0)} {}

    /// @param edge_width  of the soft edge at a point (u, w) inside
    template <class EdgeWidth>
    std::vector<Patch> make(const EdgeWidth& edge_width) {
        const auto finish = [&] {
            if (patch_.area_m2 < smallest_patch_m2) return;
            patch_.centroid = (1 / patch_.area_m2) * moment_;
            patch_.edge_width_m = edge_width(axes({patch_.centroid.x, patch_.centroid.y}));
            patches_.push_back(std::move(patch_));
        };
        let_light_in();
        if (light_.empty()) return {};
        start({Surface::Kind::floor, 0});
        if (beam_.stands_above(0)) level_face(room_.floor, 0);
        finish();
        for (std::size_t i = 0; i < room_.floor.size(); ++i) {
            if (i == room_.windows[window_].wall) continue;
            start({Surface::Kind::wall, i});
            side_face(room_.floor, i, room_.height_m, true);
            finish();
        }
        for (std::size_t k = 0; k < room_.objects.size(); ++k) {
            const Object& object = room_.objects[k];
            start({Surface::Kind::object, k});
            if (beam_.stands_above(object.height_m)) level_face(object.footprint, object.height_m);
            for (std::size_t i = 0; i < object.footprint.size(); ++i)
                side_face(object.footprint, i, object.height_m, false);
            finish();
        }
        return std::move(patches_);
    }

    /// Light on the ceiling, from a lamp that stands lower; the patch's surface is not set.
    /// @return  one without outlines if there is none
    template <class EdgeWidth>
    Patch make_on_ceiling(const EdgeWidth& edge_width) {
        if (!beam_.stands_below(room_.height_m)) return {};
        let_light_in();
        start({});
        level_face(room_.floor, room_.height_m, true);
        if (patch_.area_m2 < smallest_patch_m2) return {};
        patch_.centroid = (1 / patch_.area_m2) * moment_;
        patch_.edge_width_m = edge_width(axes({patch_.centroid.x, patch_.centroid.y}));
        return std::move(patch_);
    }

private:
    [[nodiscard]] Point2 axes(Point2 p) const {
        const Point2 d = p - opening_.frame.left_corner;
        return {dot(d, opening_.frame.u), dot(d, opening_.frame.n)};
    }
    [[nodiscard]] ClipperLib::IntPoint whole(double u, double z) const {
        return {std::llround((u - beam_.open.x0) * scale_),
                std::llround((z - beam_.open.y0) * scale_)};
    }
    [[nodiscard]] Path path(const Convex& c) const {
        Path out;
        for (int i = 0; i < c.n; ++i)
            out.push_back(whole(c.x[i], c.y[i]));
        return out;
    }

    /// The opening's open part: panes less what buildings take away.
    void let_light_in() {
        for (const auto& [u0, u1] : opening_.panes_u)
            for (const auto& [z0, z1] : opening_.panes_z) {
                const Point2 low = beam_.seen({u0, opening_.bar_plane}, z0);
                const Point2 high = beam_.seen({u1, opening_.bar_plane}, z1);
                const Box2 pane = common({low.x, high.x, low.y, high.y}, beam_.open);
                if (!pane.is_empty()) light_.push_back(path(outline(pane)));
            }
        Paths covers;
        for (const UprightPiece& piece : outside_)
            add_shadow(piece, covers);
        light_ = less(light_, covers);
    }

    void add_shadow(const UprightPiece& piece, Paths& covers) const {
        const Convex c = shadow_within(piece, beam_, beam_.open);
        if (c.n >= 3) covers.push_back(path(c));
    }

    static Paths less(const Paths& from, const Paths& covers) {
        if (covers.empty() || from.empty()) return from;
        ClipperLib::Clipper clipper;
        clipper.AddPaths(from, ClipperLib::ptSubject, true);
        clipper.AddPaths(covers, ClipperLib::ptClip, true);
        Paths out;
        clipper.Execute(ClipperLib::ctDifference, out, ClipperLib::pftNonZero,
                        ClipperLib::pftNonZero);
        return out;
    }

    void start(Surface surface) {
        patch_ = {};
        patch_.surface = surface;
        moment_ = {};
    }

    /// Light on the outline `ring` at height z, from above or from below.
    void level_face(const Ring& ring, double z, bool from_below = false) {
        Path face;
        Box2 reach = no_box;
        std::vector<Point2> projected;
        std::vector<Point2> inside;
        for (const Point2 p : ring)
            inside.push_back(axes(p));
        cut(inside, 0, 1, 0);  // in another wing a face can lie beyond the window's wall
        for (const Point2 q : inside) {
            const Point2 at = beam_.seen(q, z);
            projected.push_back(at);
            reach.grow_to(at);
        }
        if (common(reach, beam_.open).is_empty()) return;
        const auto place = [this, z](Point2 p) {
            const Point3 d = beam_.toward({p.x, 0, p.y});
            const double t = (p.y - z) / d.z;
            return Point3{p.x - t * d.x, -t * d.y, z};
        };
        if (out_of_reach(place)) return;
        for (const Point2 p : cut_to_opening(std::move(projected)))
            face.push_back(whole(p.x, p.y));

        Paths covers;
        for (const UprightPiece& piece : opening_.objects)
            if (from_below || piece.top > z + 1e-9)
                add_shadow(from_below ? piece : from_height(piece, z), covers);
        for (const UprightPiece& piece : opening_.walls)
            add_shadow(from_below ? piece : from_height(piece, z), covers);
        take(face, covers, place);
    }

    /// Light on the face over an outline's i-th side, 0..top, from within the outline or without.
    void side_face(const Ring& ring, std::size_t i, double top, bool from_within) {
        const Point2 a = ring[i], b = ring[(i + 1) % ring.size()];
        // Within lies to the left of a counter-clockwise side.
        if ((signed_area(ring) > 0) == from_within)
            upright_face(a, b, top);
        else
            upright_face(b, a, top);
    }

    /// Light on the left of an upright face from a to b, 0..top.
    void upright_face(Point2 a, Point2 b, double top) {
        const Point2 p = axes(a), q = axes(b), d = q - p;
        const double len = length(d);
        const Point2 back = (1 / len) * Point2{d.y, -d.x};  // from the lit side into the body
        const double plane = dot(back, p);
        if (!beam_.stands_before(back, plane)) return;
        // A face's light must come through the opening: only what lies inside counts.
        const UprightPiece whole_face{{p, q}, 0, top, {}};
        const UprightPiece face =
            clipped(whole_face, 0, 1, 1e-9);  // a side in the wall's plane too
        const Convex c = shadow_within(face, beam_, beam_.open);
        if (c.n < 3) return;
        const auto place = [this, back, plane](Point2 at) {
            const Point3 to = beam_.toward({at.x, 0, at.y});
            const double t = (back.x * at.x - plane) / (back.x * to.x + back.y * to.y);
            return Point3{at.x - t * to.x, -t * to.y, at.y - t * to.z};
        };
        if (out_of_reach(place)) return;

        Paths covers;
        const auto sunward = [&](const UprightPiece& piece) {
            // Beyond the face's plane by a hair, so that its own body does not shade it.
            add_shadow(clipped(piece, back.x, back.y, plane - 1e-9), covers);
        };
        for (const UprightPiece& piece : opening_.objects)
            sunward(piece);
        for (const UprightPiece& piece : opening_.walls)
            sunward(piece);
        take(path(c), covers, place);
    }

    /// Whether the whole opening's image on a face's plane lies beyond the reach: no boolean
    /// needed.
    template <class Place>
    [[nodiscard]] bool out_of_reach(const Place& place) const {
        if (!reach_) return false;
        const Box2& o = beam_.open;
        Patch image;
        std::vector<Point3>& ring = image.outlines.emplace_back();
        for (const Point2 at :
             {Point2{o.x0, o.y0}, Point2{o.x1, o.y0}, Point2{o.x1, o.y1}, Point2{o.x0, o.y1}})
            ring.push_back(on_plan(place(at)));
        return distance_to(image, reach_->centre) > reach_->radius_m;
    }

    /// From the window's axes to the plan's.
    [[nodiscard]] Point3 on_plan(Point3 p) const {
        const Point2 xy =
            opening_.frame.left_corner + p.x * opening_.frame.u + p.y * opening_.frame.n;
        return {xy.x, xy.y, p.z};
    }

    static UprightPiece from_height(const UprightPiece& piece, double z) {
        UprightPiece out = piece;
        out.bottom = std::max(out.bottom, z);
        return out;
    }

    /// Keeps the part of an outline where a x + b y <= c (Sutherland and Hodgman 1974).
    static void cut(std::vector<Point2>& ring, double a, double b, double c) {
        std::vector<Point2> out;
        for (std::size_t i = 0; i < ring.size(); ++i) {
            const Point2 p = ring[i], q = ring[(i + 1) % ring.size()];
            const double dp = a * p.x + b * p.y - c, dq = a * q.x + b * q.y - c;
            if (dp <= 0) out.push_back(p);
            if ((dp < 0 && dq > 0) || (dp > 0 && dq < 0))
                out.push_back(p + (dp / (dp - dq)) * (q - p));
        }
        ring = std::move(out);
    }

    /// Brings an outline near the opening, so that far corners do not cost digits.
    [[nodiscard]] std::vector<Point2> cut_to_opening(std::vector<Point2> ring) const {
        const Box2& o = beam_.open;
        // Half a size beyond keeps whole numbers below the library's limit of 2^30.
        const double m = std::max(o.x1 - o.x0, o.y1 - o.y0) / 2;
        cut(ring, -1, 0, -(o.x0 - m));
        cut(ring, 1, 0, o.x1 + m);
        cut(ring, 0, -1, -(o.y0 - m));
        cut(ring, 0, 1, o.y1 + m);
        return ring;
    }

    /// Intersects the light with a face, takes the covers away, and maps what is left back into
    /// space with `place`.
    template <class Place>
    void take(const Path& face, const Paths& covers, const Place& place) {
        if (face.size() < 3) return;
        ClipperLib::Clipper clipper;
        clipper.AddPaths(light_, ClipperLib::ptSubject, true);
        clipper.AddPath(face, ClipperLib::ptClip, true);
        ClipperLib::PolyTree tree;
        if (covers.empty()) {
            clipper.Execute(ClipperLib::ctIntersection, tree, ClipperLib::pftNonZero,
                            ClipperLib::pftNonZero);
            return add_outers(tree, place);
        }
        Paths lit;
        clipper.Execute(ClipperLib::ctIntersection, lit, ClipperLib::pftNonZero,
                        ClipperLib::pftNonZero);
        ClipperLib::Clipper second;
        second.AddPaths(lit, ClipperLib::ptSubject, true);
        second.AddPaths(covers, ClipperLib::ptClip, true);
        second.Execute(ClipperLib::ctDifference, tree, ClipperLib::pftNonZero,
                       ClipperLib::pftNonZero);
        add_outers(tree, place);
    }

    template <class Place>
    void add_outers(const ClipperLib::PolyNode& parent, const Place& place) {
        for (const ClipperLib::PolyNode* outer : parent.Childs) {
            add_ring(outer->Contour, place);
            for (const ClipperLib::PolyNode* hole : outer->Childs)
                add_ring(hole->Contour, place);
            for (const ClipperLib::PolyNode* hole : outer->Childs)
                add_outers(*hole, place);  // islands in a hole come after all holes
        }
    }

    template <class Place>
    void add_ring(const Path& contour, const Place& place) {
        std::vector<Point3> ring;
        ring.reserve(contour.size());
        // Seen from the sun left and right change places: reverse the turning sense.
        for (auto it = contour.rbegin(); it != contour.rend(); ++it) {
            const Point2 at{static_cast<double>(it->X) / scale_ + beam_.open.x0,
                            static_cast<double>(it->Y) / scale_ + beam_.open.y0};
            ring.push_back(place(at));
        }
        measure(ring);
        for (Point3& p : ring)
            p = on_plan(p);
        patch_.outlines.push_back(std::move(ring));
    }

    /// Adds area and first moment, in the window's axes turned into the plan's.
    void measure(const std::vector<Point3>& ring) {
        Point3 twice{};
        Point3 moment{};
        const Point3 lit_side = beam_.toward(ring[0]);
        for (std::size_t i = 1; i + 1 < ring.size(); ++i) {
            const Point3 a = ring[i] - ring[0], b = ring[i + 1] - ring[0];
            const Point3 n{a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
            twice = twice + n;
            const double size = std::copysign(std::sqrt(dot(n, n)) / 2, dot(n, lit_side));
            moment = moment + (size / 3) * (ring[0] + ring[i] + ring[i + 1]);
        }
        const double signed_size =
            std::copysign(std::sqrt(dot(twice, twice)) / 2, dot(twice, lit_side));
        patch_.area_m2 += signed_size;
        const Point2 xy = moment.x * opening_.frame.u + moment.y * opening_.frame.n;
        const Point2 corner = signed_size * opening_.frame.left_corner;
        moment_ = moment_ + Point3{xy.x + corner.x, xy.y + corner.y, moment.z};
    }

    const Room& room_;
    const Scene::Opening& opening_;
    const std::vector<UprightPiece>& outside_;
    std::size_t window_;
    const Rays& beam_;
    std::optional<Reach> reach_;
    double scale_;
    Paths light_;
    Patch patch_;
    Point3 moment_;
    std::vector<Patch> patches_;
};

}  // namespace keyhour::room
