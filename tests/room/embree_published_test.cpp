// Patches and coverages of random rooms against rays traced through triangles.
// Source: Embree 3.13 (Wald, Woop, Benthin, Johnson, Ernst, Embree: a kernel framework for
// efficient CPU ray tracing, ACM Transactions on Graphics 33(4), 2014): a published library that
// knows nothing of windows; the room is told to it as triangles in ray_room.hpp.

#include <catch2/catch.hpp>
#include <sstream>

#include "keyhour/room/scene.hpp"
#include "published/ray_room.hpp"
#include "support/random_room.hpp"

using namespace keyhour;
using namespace keyhour::test;
using room::Patch;
using room::Scene;

namespace {

constexpr int rooms_wanted = 500;  // 4 s, under the sanitizers some 40 s

/// Figures of the whole run, printed at its end.
struct Tally {
    long points = 0, lit_points = 0, differing = 0;
    double worst_edge_m = 0;
    long coverages = 0, partly_covered = 0;
    double worst_coverage = 0, worst_sigmas = 0;
    long behind = 0;
};

std::string described(const Room& r, Point3 sun) {
    std::ostringstream out;
    out.precision(17);
    out << "sun " << sun.x << ' ' << sun.y << ' ' << sun.z << "\nfloor";
    for (const Point2 p : r.floor)
        out << " {" << p.x << ", " << p.y << "},";
    out << "\nheight " << r.height_m << " above ground " << r.floor_above_ground_m;
    for (const Window& w : r.windows)
        out << "\nwindow wall " << w.wall << " left " << w.left_m << " width " << w.width_m
            << " sill " << w.sill_m << " height " << w.height_m << " reveal " << w.reveal_m
            << " bars " << w.bars.upright << " x " << w.bars.level << " of " << w.bars.width_m
            << " back " << w.bars.set_back_m;
    for (const Object& o : r.objects) {
        out << "\nobject " << o.height_m << ":";
        for (const Point2 p : o.footprint)
            out << " {" << p.x << ", " << p.y << "},";
    }
    for (const Building& b : r.buildings) {
        out << "\nbuilding " << b.height_m << ":";
        for (const Point2 p : b.footprint)
            out << " {" << p.x << ", " << p.y << "},";
    }
    return out.str();
}

bool is_of(const Face& face, const room::Surface& surface) {
    switch (face.part) {
        case Part::floor:
            return surface.kind == room::Surface::Kind::floor;
        case Part::wall:
            return surface.kind == room::Surface::Kind::wall && surface.index == face.index;
        case Part::object:
            return surface.kind == room::Surface::Kind::object && surface.index == face.index;
    }
    return false;
}

/// One window and one sun: what the program says of any point of a face, and what a ray says.
class Comparison {
public:
    Comparison(const RayRoom& rays, const std::vector<Patch>& patches, const Room& r,
               std::size_t window, Point3 sun, Tally& tally)
        : rays_{rays}, room_{r}, window_{window}, sun_{sun}, tally_{tally} {
        rings_.resize(rays.faces().size());
        has_patch_.resize(rays.faces().size());
        for (const Patch& patch : patches) {
            for (std::size_t i = 0; i < rays.faces().size(); ++i)
                if (is_of(rays.faces()[i], patch.surface)) has_patch_[i] = true;
            for (const auto& ring : patch.outlines)
                hand_to_faces(patch, ring);
        }
    }

    /// Random points of every face, points on both sides of every outline edge, and points where
    /// light through the window lands.
    void run(Dice& dice) {
        for (std::size_t i = 0; i < rays_.faces().size(); ++i) {
            for (int k = 0; k < 40; ++k)
                look(dice, i, random_point(dice, rays_.faces()[i]));
            for (const Ring& ring : rings_[i])
                walk_along(dice, i, ring);
        }
        for (int k = 0; k < 250; ++k) {
            const Window& w = room_.windows[window_];
            const double up = dice.unit(), across = dice.unit();
            const Point3 inner = in_the_beam(room_, w, sun_, across, up, 0);
            const auto landing = rays_.land(window_, inner, sun_);
            if (landing) look(dice, landing->face, rays_.faces()[landing->face].flat(landing->at));
        }
    }

private:
    void hand_to_faces(const Patch& patch, const std::vector<Point3>& ring) {
        double least = 1;
        for (std::size_t i = 0; i < rays_.faces().size(); ++i) {
            const Face& face = rays_.faces()[i];
            if (!is_of(face, patch.surface)) continue;
            const double off = off_plane(face, ring);
            least = std::min(least, off);
            if (off < on_plane_m) rings_[i].push_back(flattened(face, ring));
        }
        INFO("an outline lies on no face of its surface");
        CHECK(least < on_plane_m);
    }

    static Point2 random_point(Dice& dice, const Face& face) {
        double low_x = 1e9, high_x = -1e9, low_y = 1e9, high_y = -1e9;
        for (const Point2 p : face.outline) {
            low_x = std::min(low_x, p.x);
            high_x = std::max(high_x, p.x);
            low_y = std::min(low_y, p.y);
            high_y = std::max(high_y, p.y);
        }
        for (;;) {
            const Point2 p{dice.between(low_x, high_x), dice.between(low_y, high_y)};
            if (inside({face.outline}, p)) return p;
        }
    }

    void walk_along(Dice& dice, std::size_t i, const Ring& ring) {
        for (std::size_t k = 0; k < ring.size(); ++k) {
            const Point2 a = ring[k], ab = ring[(k + 1) % ring.size()] - a;
            if (length(ab) < 1e-3) continue;
            const Point2 aside = (dice.between(0.0012, 0.015) / length(ab)) * Point2{-ab.y, ab.x};
            const Point2 p = a + dice.unit() * ab;
            look(dice, i, p + aside);
            look(dice, i, p - aside);
        }
    }

    bool ray_reaches(const Face& face, Point2 p) const {
        return rays_.lit(face.at(p), dot(face.normal, sun_), window_, sun_);
    }

    /// Do outline and ray agree at this point? If not, an edge of either must be near.
    void look(Dice& dice, std::size_t i, Point2 p) {
        const Face& face = rays_.faces()[i];
        const double cosine = dot(face.normal, sun_);
        if (face.against_a_wall || !inside({face.outline}, p)) return;
        if (cosine > 0 && cosine < least_cosine) return;
        const bool by_outline = inside(rings_[i], p), by_ray = ray_reaches(face, p);
        ++tally_.points;
        if (by_ray) ++tally_.lit_points;
        if (by_outline == by_ray) return;
        ++tally_.differing;
        double edge_m = distance_to_edges(rings_[i], p);
        const double tolerance_m = tolerance(i, cosine);
        if (edge_m > tolerance_m)
            edge_m = std::min(edge_m, distance_to_flip(dice, face, p, by_ray, tolerance_m));
        tally_.worst_edge_m = std::max(tally_.worst_edge_m, edge_m);
        if (edge_m <= tolerance_m) return;
        const Point3 at = face.at(p);
        INFO(described(room_, sun_));
        INFO("window " << window_ << " face " << i << " point " << at.x << ' ' << at.y << ' '
                       << at.z << " outline says " << by_outline << " ray says " << by_ray
                       << " nearest edge " << edge_m);
        CHECK(edge_m <= tolerance_m);
    }

    /// A millimetre: floats resolve a thousandth of that here. More only where the light grazes the
    /// face, as a ray then starts RayRoom::clear_m / cosine from its point. A centimetre where the
    /// surface has no patch: one below 1 cm2 is left out, and none of its points lies farther than
    /// 0.6 cm from its edge.
    [[nodiscard]] double tolerance(std::size_t i, double cosine) const {
        const double start_m = RayRoom::clear_m / std::max(cosine, least_cosine);
        return std::max(has_patch_[i] ? 0.001 : 0.01, start_m);
    }

    double distance_to_flip(Dice& dice, const Face& face, Point2 p, bool by_ray,
                            double reach_m) const {
        for (int k = 1; k <= 400; ++k) {
            const double away = reach_m * k / 400, turn = dice.between(0, 2 * std::numbers::pi);
            if (ray_reaches(face, p + Point2{away * std::cos(turn), away * std::sin(turn)}) !=
                by_ray)
                return away;
        }
        return std::numeric_limits<double>::infinity();
    }

    static constexpr double on_plane_m = 1e-5;
    static constexpr double least_cosine =
        2e-4;  // light within 0.01 degree of the face: not judged
    const RayRoom& rays_;
    const Room& room_;
    std::size_t window_;
    Point3 sun_;
    Tally& tally_;
    std::vector<std::vector<Ring>> rings_;  // of each face
    std::vector<bool> has_patch_;           // the surface that the face belongs to
};

/// A share found by counting, with the spread that its counting has.
struct Share {
    double value = 0, variance = 0;
};

/// Two rays through each of n x n cells of a unit square: the cells that are neither all light nor
/// all dark give the spread.
template <class IsLit>
Share counted(Dice& dice, int n, IsLit is_lit) {
    Share share;
    for (int i = 0; i < n; ++i)
        for (int k = 0; k < n; ++k) {
            const auto lit_somewhere = [&] {
                const double second = (k + dice.unit()) / n, first = (i + dice.unit()) / n;
                return is_lit(first, second);
            };
            const bool one = lit_somewhere(), two = lit_somewhere();
            share.value += (one ? 0.5 : 0) + (two ? 0.5 : 0);
            if (one != two) share.variance += 0.25;
        }
    const double cells = n * n;
    return {share.value / cells, share.variance / (cells * cells)};
}

constexpr int cells_a_side = 24;

Share sphere_share(Dice& dice, const RayRoom& rays, const Mark& m, std::size_t window, Point3 sun) {
    const double level = std::hypot(sun.x, sun.y);
    const Point3 across{-sun.y / level, sun.x / level, 0};
    const Point3 up{-sun.x * sun.z / level, -sun.y * sun.z / level, level};
    return counted(dice, cells_a_side, [&](double a, double b) {
        const double r = m.radius_m * std::sqrt(a), turn = 2 * std::numbers::pi * b;
        const double forward = std::sqrt(m.radius_m * m.radius_m - r * r);
        const Point3 p = Point3{m.at.x, m.at.y, m.height_m} + r * std::cos(turn) * across +
                         r * std::sin(turn) * up + forward * sun;
        return rays.lit(p, 1, window, sun);
    });
}

Share box_share(Dice& dice, const RayRoom& rays, const Mark& m, std::size_t window, Point3 sun) {
    const Point3 centre{m.at.x, m.at.y, m.height_m};
    const std::array<Point3, 3> axes{Point3{1, 0, 0}, Point3{0, 1, 0}, Point3{0, 0, 1}};
    const auto& size = *m.box_m;
    Share all;
    double silhouette_m2 = 0;
    for (std::size_t i = 0; i < 3; ++i) {
        const std::size_t j = (i + 1) % 3, k = (i + 2) % 3;
        const double towards = dot(axes[i], sun);
        const double seen_m2 = size[j] * size[k] * std::abs(towards);
        const Point3 middle = centre + (towards > 0 ? 0.5 : -0.5) * size[i] * axes[i];
        const Share one = counted(dice, cells_a_side, [&](double a, double b) {
            const Point3 p = middle + (a - 0.5) * size[j] * axes[j] + (b - 0.5) * size[k] * axes[k];
            return rays.lit(p, std::max(std::abs(towards), 1e-6), window, sun);
        });
        all.value += seen_m2 * one.value;
        all.variance += seen_m2 * seen_m2 * one.variance;
        silhouette_m2 += seen_m2;
    }
    return {all.value / silhouette_m2, all.variance / (silhouette_m2 * silhouette_m2)};
}

/// Five standard deviations of the counting: one honest coverage in 1.7 million lies outside.
/// Half a percent besides: what 2 x 24 x 24 rays can miss altogether (a share of 0.005 goes unseen
/// with a probability of 0.995^1152 = 0.3 %) and what the program's many-sided circle costs.
void compare_coverage(Dice& dice, const RayRoom& rays, const Scene& scene, const Room& r,
                      std::size_t mark, std::size_t window, Point3 sun, Tally& tally) {
    const Mark& m = r.marks[mark];
    const Share by_rays =
        m.box_m ? box_share(dice, rays, m, window, sun) : sphere_share(dice, rays, m, window, sun);
    const double coverage = scene.coverage(mark, window, sun);
    const double sigma = std::sqrt(by_rays.variance);
    const double off = std::abs(coverage - by_rays.value);
    ++tally.coverages;
    if (by_rays.value > 0 && by_rays.value < 1) ++tally.partly_covered;
    tally.worst_coverage = std::max(tally.worst_coverage, off);
    if (sigma > 0) tally.worst_sigmas = std::max(tally.worst_sigmas, off / sigma);
    if (off <= 5 * sigma + 0.005) return;
    INFO(described(r, sun));
    INFO("mark at " << m.at.x << ' ' << m.at.y << ' ' << m.height_m << " radius " << m.radius_m
                    << (m.box_m ? " box" : "") << " window " << window);
    CHECK(coverage == Approx(by_rays.value).margin(5 * sigma + 0.005));
}

/// The surface that the ray through the mark's centre meets next; a ray that leaves through a
/// window meets none.
void compare_surface_behind(const RayRoom& rays, const Scene& scene, const Room& r,
                            std::size_t mark, Point3 sun, Tally& tally) {
    const Mark& m = r.marks[mark];
    const auto face = rays.behind({m.at.x, m.at.y, m.height_m}, sun);
    if (!face) return;
    ++tally.behind;
    const room::Surface surface = scene.surface_behind(mark, sun);
    INFO(described(r, sun));
    INFO("mark at " << m.at.x << ' ' << m.at.y << ' ' << m.height_m << " face " << *face);
    CHECK(is_of(rays.faces()[*face], surface));
}

struct DeviceRelease {
    void operator()(RTCDevice device) const { rtcReleaseDevice(device); }
};
using Device = std::unique_ptr<RTCDeviceTy, DeviceRelease>;

}  // namespace

TEST_CASE("patches and coverages of 500 random rooms are those of traced rays",
          "[room][published]") {
    const Device device{rtcNewDevice("threads=1")};
    REQUIRE(device);
    Tally tally;
    long rays_traced = 0;
    for (int n = 0; n < rooms_wanted; ++n) {
        Dice dice{20260000u + static_cast<unsigned>(n)};
        Room r = random_room(dice);
        const std::vector<Point3> suns{random_sun(dice, r), random_sun(dice, r),
                                       square_sun(dice, r)};
        add_marks(dice, r, 3, suns);
        const Scene scene{r};
        const RayRoom rays{device.get(), r};
        for (const Point3 sun : suns)
            for (std::size_t w = 0; w < r.windows.size(); ++w) {
                const auto patches = scene.patches(w, sun);
                Comparison{rays, patches, r, w, sun, tally}.run(dice);
                for (std::size_t m = 0; m < r.marks.size(); ++m)
                    compare_coverage(dice, rays, scene, r, m, w, sun, tally);
            }
        // Not along the third sun: its ray can run in the very plane of a wall.
        for (const Point3 sun : {suns[0], suns[1]})
            for (std::size_t m = 0; m < r.marks.size(); ++m)
                compare_surface_behind(rays, scene, r, m, sun, tally);
        rays_traced += rays.rays;
    }
    CHECK(tally.lit_points > 100L * rooms_wanted);   // the rooms are not dark
    CHECK(tally.partly_covered > rooms_wanted / 2);  // the marks are not all in or all out
    WARN(rooms_wanted << " rooms, " << rays_traced << " rays, " << tally.points << " points ("
                      << tally.lit_points << " lit), " << tally.differing
                      << " differ, farthest from an edge " << 1000 * tally.worst_edge_m << " mm; "
                      << tally.coverages << " coverages (" << tally.partly_covered
                      << " partial), largest difference " << tally.worst_coverage << ", "
                      << tally.worst_sigmas << " sigma; " << tally.behind
                      << " surfaces behind a mark");
}
