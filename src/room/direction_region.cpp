#include "keyhour/room/direction_region.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <span>

#include "beam.hpp"
#include "keyhour/room/camera_axes.hpp"
#include "region_tracer.hpp"

namespace keyhour::room {
namespace {

constexpr double equal = 1e-9;  // 95 % is enough, and so is the whole when 100 % are asked for

/// Where the window's wall is lit: azimuths.
std::pair<double, double> in_front_of(const Room& room, std::size_t window) {
    constexpr double grazing = 0.006 * degree;  // nearer to the wall's plane no light is counted
    const Point2 n = wall_frame(room.floor, room.windows[window].wall).n;
    const double facing = std::atan2(n.x, n.y);
    return {facing - std::numbers::pi / 2 + grazing, facing + std::numbers::pi / 2 - grazing};
}

/// Where besides the key angle is right: spans of azimuth.
std::vector<std::pair<double, double>> azimuth_spans(const Room& room, const RegionRequest& q) {
    const auto [low, high] = in_front_of(room, q.window);
    if (!q.camera) return {{low, high}};
    const Point2 lens = q.camera->at - room.marks[q.camera->aims_at].at;
    const double from = std::atan2(lens.x, lens.y);
    const double k0 = q.key_angle_deg[0] * degree, k1 = q.key_angle_deg[1] * degree;
    std::vector<std::pair<double, double>> sides{{from + k0, from + k1}, {from - k1, from - k0}};
    if (k0 <= 0) sides = {{from - k1, from + k1}};
    if (k0 <= 0 && k1 >= std::numbers::pi) return {{low, high}};
    if (k0 > 0 && k1 >= std::numbers::pi) sides = {{from + k0, from + 2 * std::numbers::pi - k0}};
    std::vector<std::pair<double, double>> out;
    for (const auto& [a, b] : sides)
        for (int turn = -2; turn <= 2; ++turn) {
            const double by = turn * 2 * std::numbers::pi;
            const double x0 = std::max(low, a + by), x1 = std::min(high, b + by);
            if (x1 - x0 > 1e-6) out.emplace_back(x0, x1);
        }
    return out;
}

/// Cells no larger than this share of a size, seen from a distance.
int cells_for(double size_m, double distance_m) {
    const double steps = 0.8 * size_m / std::max(0.3, distance_m) * (root_size / root_angle);
    int cells = 4 * coarse;
    while (cells > coarse / 16 && cells > steps)
        cells /= 2;
    return cells;
}

double distance(Point3 a, Point3 b) {
    return std::sqrt(dot(a - b, a - b));
}

/// To the farthest that stands outside, its top counted.
double farthest_outside(const Room& room, Point3 from) {
    double most = 0;
    const auto see = [&](const Ring& ring, double top) {
        for (const Point2 p : ring)
            most = std::max(most, distance(from, {p.x, p.y, top}));
    };
    for (const Building& building : room.buildings)
        see(building.footprint, building.height_m);
    see(room.floor, room.height_m);
    return most;
}

/// Is enough of the mark's silhouette lit, and the sun out of the frame?
class MarkQuestion {
public:
    MarkQuestion(const Scene& scene, const RegionRequest& request) : scene_{scene}, q_{request} {
        if (q_.camera) {
            axes_ = axes(scene.room(), *q_.camera);
            half_across_ = tan(q_.camera->view / 2);
            half_up_ = tan(q_.camera->view_vertical / 2);
        }
        const Mark& mark = scene.room().marks[q_.mark];
        const Window& window = scene.room().windows[q_.window];
        const Point3 centre{mark.at.x, mark.at.y, mark.height_m};
        const double half = mark.box_m
                                ? *std::min_element(mark.box_m->begin(), mark.box_m->end()) / 2
                                : mark.radius_m;
        double farthest = 0;
        for (const Point3 corner : scene.corners(q_.window))
            farthest = std::max(farthest, distance(corner, centre));
        const double near = distance(scene.middle(q_.window), centre);
        const bool has_bars = window.bars.upright + window.bars.level > 0;
        const double finest = has_bars ? std::min(half, 2 * window.bars.width_m) : half;
        edge_ = {cells_for(half, near), cells_for(finest, near),
                 slope(half, farthest + window.reveal_m)};
        const double outside = farthest_outside(scene.room(), centre);
        outside_ = {cells_for(half, outside), cells_for(half, outside), slope(half, outside)};
        outside_.largest = std::min(outside_.largest, coarse);
        outside_.finest = std::min(outside_.finest, edge_.finest);
        // Wholly lit or not: flat on the one side, and on the other not made of planes.
        if (q_.coverage > most_partly) {
            edge_.slope = outside_.slope = 1e9;
            edge_.ridge = outside_.ridge = 4;
        }
    }
    /// Positive where the direction is good.
    [[nodiscard]] double value(Point3 sun) const {
        double lit = scene_.coverage(q_.mark, q_.window, sun) - q_.coverage + equal;
        // Of a mark that must be lit wholly, what a disc loses to an edge grows with the 1.5th
        // power of the depth.
        if (q_.coverage > most_partly && lit <= 0) lit = -std::pow(-lit, 2.0 / 3);
        if (q_.camera) lit = std::min(lit, outside_frame(sun));
        return lit > 0 && q_.spoils && q_.spoils(sun) ? -1 : lit;
    }
    /// Positive out of the camera's frame, in tangents of angles off the lens axis.
    [[nodiscard]] double outside_frame(Point3 sun) const noexcept {
        const double forward = dot(sun, axes_.forward);
        if (forward <= 1e-3) return 1;
        return std::max(std::abs(dot(sun, axes_.right)) / forward - half_across_,
                        std::abs(dot(sun, axes_.up)) / forward - half_up_);
    }
    [[nodiscard]] Touch touch(Point3 sun) const noexcept {
        return scene_.touch(q_.mark, q_.window, sun, q_.coverage);
    }
    [[nodiscard]] bool is_lit_between(std::span<const Point3>) const noexcept { return false; }
    [[nodiscard]] const Grain& grain(bool nears_outside) const noexcept {
        return nears_outside ? outside_ : edge_;
    }
    [[nodiscard]] bool may_be_spoilt() const noexcept { return q_.camera || q_.spoils; }
    [[nodiscard]] bool is_spoilt_in_parts() const noexcept { return q_.spoils != nullptr; }
    [[nodiscard]] bool is_spoilt(Point3 sun) const {
        return (q_.camera && outside_frame(sun) <= 0) || (q_.spoils && q_.spoils(sun));
    }

private:
    static constexpr double most_partly = 0.9999;

    /// What moves past a silhouette takes no more than its width; a plane's outline moves as one,
    /// and planes farther off by what they are farther. The silhouette itself turns, too.
    [[nodiscard]] static double slope(double half_m, double distance_m) {
        return 0.64 * 1.2 * distance_m / half_m + 3;
    }

    const Scene& scene_;
    const RegionRequest& q_;
    CameraAxes axes_;
    double half_across_ = 0, half_up_ = 0;
    Grain edge_, outside_;
};

/// Does any sun come in?
class WindowQuestion {
public:
    WindowQuestion(const Scene& scene, std::size_t window) : scene_{scene}, window_{window} {
        const Window& w = scene.room().windows[window];
        const double small = std::min(w.width_m, w.height_m);
        const double large = std::max(w.width_m, w.height_m);
        const double outside = farthest_outside(scene.room(), scene.middle(window));
        edge_ = {4 * coarse, 4 * coarse, large * (w.reveal_m + large) * 2};
        const int cells = std::min(coarse, cells_for(small / 2, outside));
        outside_ = {cells, cells, large * outside * 2};
    }
    [[nodiscard]] double value(Point3 sun) const {
        return scene_.open_area(window_, sun) - smallest_patch_m2;
    }
    [[nodiscard]] Touch touch(Point3 sun) const noexcept {
        return scene_.touch(no_mark, window_, sun, 1);
    }
    /// Also where shadows take a part of the opening each, one here and one there.
    [[nodiscard]] bool is_lit_between(std::span<const Point3> suns) const noexcept {
        return lights_a_spot(scene_, window_, suns);
    }
    [[nodiscard]] const Grain& grain(bool nears_outside) const noexcept {
        return nears_outside ? outside_ : edge_;
    }
    [[nodiscard]] bool may_be_spoilt() const noexcept { return false; }
    [[nodiscard]] bool is_spoilt_in_parts() const noexcept { return false; }
    [[nodiscard]] bool is_spoilt(Point3) const noexcept { return false; }

private:
    const Scene& scene_;
    std::size_t window_;
    Grain edge_, outside_;
};

/// Can light get from the window to as much of the mark as is wanted? To more than half of it only
/// with a straight line to its centre; to a little of it round a corner of the walls.
bool may_be_covered(const Scene& scene, const RegionRequest& request) {
    if (request.coverage > 0.5) return scene.faces(request.window, request.mark);
    const Room& room = scene.room();
    const Mark& mark = room.marks[request.mark];
    const WallFrame wall = wall_frame(room.floor, room.windows[request.window].wall);
    return dot(mark.at - wall.left_corner, wall.n) < half_size(mark);
}

}  // namespace

std::vector<DirectionRing> covered_region(const Scene& scene, const RegionRequest& request) {
    std::vector<DirectionRing> out;
    if (!may_be_covered(scene, request)) return out;
    const MarkQuestion question{scene, request};
    for (const auto& [x0, x1] : azimuth_spans(scene.room(), request))
        Tracer{question, request.bounds, {x0, x1, request.bounds.lowest, request.bounds.highest}}
            .trace(out);
    return out;
}

std::vector<DirectionRing> sunlit_region(const Scene& scene, std::size_t window,
                                         const RegionBounds& bounds) {
    std::vector<DirectionRing> out;
    const WindowQuestion question{scene, window};
    const auto [x0, x1] = in_front_of(scene.room(), window);
    Tracer{question, bounds, {x0, x1, bounds.lowest, bounds.highest}}.trace(out);
    return out;
}

}  // namespace keyhour::room
