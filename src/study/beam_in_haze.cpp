#include "keyhour/study/beam_in_haze.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>

#include "keyhour/light/haze.hpp"
#include "keyhour/room/camera_axes.hpp"
#include "room/vectors.hpp"
#include "room_surfaces.hpp"

namespace keyhour::study {
namespace {

using room::Point2;
using room::Point3;

Angle between(Point3 a, Point3 b) {
    return Angle::radians(std::atan2(norm(cross3(a, b)), dot(a, b)));
}

/// How far a ray goes from `from` down the sun, until floor or wall.
double way_m(const room::Room& room, Point3 from, Point3 sun) {
    double way = from.z / sun.z;
    const Point2 p{from.x, from.y}, d{-sun.x, -sun.y};
    for (std::size_t i = 0; i < room.floor.size(); ++i) {
        const Point2 a = room.floor[i], ab = room.floor[(i + 1) % room.floor.size()] - a;
        const double slope = cross(d, ab);
        // Of a wall along the way `along` is no number from 0 to 1.
        const double t = cross(a - p, ab) / slope, along = cross(a - p, d) / slope;
        if (t > 0 && along >= 0 && along <= 1) way = std::min(way, t);
    }
    return way;
}

/// A camera's pyramid of view: a point is in it where all are >= 0 on what leads to it. It lies
/// before the lens then, as two opposite sides add up to a way forward.
std::array<Point3, 4> sides(const room::CameraAxes& a, const room::Camera& camera) {
    const double h = tan(camera.view / 2), v = tan(camera.view_vertical / 2);
    return {h * a.forward + a.right, h * a.forward - a.right, v * a.forward + a.up,
            v * a.forward - a.up};
}

struct Way {
    double from_m, to_m;
    [[nodiscard]] double length() const { return std::max(0.0, to_m - from_m); }
};

/// The part of a ray, 0..length_m, that lies in the pyramid (Liang and Barsky 1984).
Way in_view(const std::array<Point3, 4>& sides, Point3 from_eye, Point3 along, double length_m) {
    Way way{0, length_m};
    for (const Point3& side : sides) {
        const double start = dot(side, from_eye), rate = dot(side, along);
        // Along a side (rate 0) `at` is infinite: all of the ray or nothing.
        const double at = -start / rate;
        if (rate >= 0)
            way.from_m = std::max(way.from_m, at);
        else
            way.to_m = std::min(way.to_m, at);
    }
    return way;
}

/// Does the line from the lens to the sun go through the opening? The sun is before its wall.
bool through_opening(const room::Scene& scene, std::size_t window, Point3 eye, Point3 sun) {
    const room::Window& w = scene.room().windows[window];
    const room::WallFrame& f = scene.frame(window);
    const Point3 n{f.n.x, f.n.y, 0}, u{f.u.x, f.u.y, 0}, middle = scene.middle(window);
    const double outward = dot(n, sun), away = dot(n, middle - eye);
    if (away <= 0) return false;
    const Point3 at = eye + (away / outward) * sun - middle;
    return std::abs(dot(at, u)) <= w.width_m / 2 && std::abs(at.z) <= w.height_m / 2;
}

}  // namespace

double BeamInHaze::stops_over_side() const {
    return light::haze_stops(scattering, Angle::degrees(90));
}

BeamInHaze beam_in_haze(const room::Scene& scene, std::size_t window, std::size_t camera,
                        Point3 sun) {
    constexpr int rays = 3;  // each way
    const room::Camera& c = scene.room().cameras[camera];
    const Point3 eye{c.at.x, c.at.y, c.height_m};
    const room::CameraAxes a = axes(scene.room(), c);
    BeamInHaze out;
    out.window = window;
    out.camera = camera;
    out.off_axis = out.scattering = between(a.forward, sun);
    out.sun_in_lens = in_frame(scene.room(), c, sun) && through_opening(scene, window, eye, sun);
    const auto part = clear_part(scene, window, sun);
    if (!part) return out;
    const auto pyramid = sides(a, c);
    const Point3 along = -1 * sun;
    for (int i = 0; i < rays; ++i)
        for (int k = 0; k < rays; ++k) {
            const Point3 from =
                point_of(*part, scene.frame(window), (i + 0.5) / rays, (k + 0.5) / rays);
            const Way way = in_view(pyramid, from - eye, along, way_m(scene.room(), from, sun));
            if (way.length() <= out.in_frame_m) continue;
            out.in_frame_m = way.length();
            const Point3 middle = from + ((way.from_m + way.to_m) / 2) * along;
            out.scattering = between(middle - eye, sun);
        }
    return out;
}

std::vector<BeamInHaze> beams_in_haze(const room::Scene& scene, std::size_t window, Point3 sun) {
    std::vector<BeamInHaze> out;
    for (std::size_t camera = 0; camera < scene.room().cameras.size(); ++camera)
        out.push_back(beam_in_haze(scene, window, camera, sun));
    return out;
}

}  // namespace keyhour::study
