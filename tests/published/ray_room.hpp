#pragma once
/// @file
/// A room as a scene of opaque triangles for Embree, and the question "does the sun reach this
/// point through that window?" answered by one ray. Shares no step with src/room: no projection,
/// no polygon booleans, no shadow outlines.
///
/// A ray from a point to the sun has three stretches, each with its own scene:
///   inside   from the point to the window's inner face: floor, ceiling, objects, and the walls
///            with this one window cut out (light through two windows in a row is neglected)
///   opening  from the inner to the outer face: the four sides of the reveal and the bars
///   outside  beyond the outer face: the buildings and the room's own body

#include <embree3/rtcore.h>

#include <cmath>
#include <limits>
#include <memory>
#include <optional>
#include <vector>

#include "keyhour/room/room.hpp"
#include "support/face.hpp"

namespace keyhour::test {

/// Triangles, each remembering the face that it belongs to.
class Mesh {
public:
    static constexpr std::size_t no_face = static_cast<std::size_t>(-1);

    void triangle(Point3 a, Point3 b, Point3 c, std::size_t face = no_face) {
        for (const Point3 p : {a, b, c}) {
            indices.push_back(static_cast<unsigned>(corners.size() / 3));
            for (const double v : {p.x, p.y, p.z})
                corners.push_back(static_cast<float>(v));
        }
        faces.push_back(face);
    }
    void quad(Point3 a, Point3 b, Point3 c, Point3 d, std::size_t face = no_face) {
        triangle(a, b, c, face);
        triangle(a, c, d, face);
    }
    /// Any simple outline in a plane, by cutting off one ear after another.
    void polygon(const Face& plane, Ring ring, std::size_t face = no_face) {
        ring = counter_clockwise(ring);
        while (ring.size() > 3) {
            const std::size_t i = find_ear(ring), n = ring.size();
            triangle(plane.at(ring[(i + n - 1) % n]), plane.at(ring[i]),
                     plane.at(ring[(i + 1) % n]), face);
            ring.erase(ring.begin() + static_cast<long>(i));
        }
        triangle(plane.at(ring[0]), plane.at(ring[1]), plane.at(ring[2]), face);
    }
    /// Sides, top and bottom.
    void prism(const Ring& print, double low_m, double high_m) {
        for (std::size_t i = 0; i < print.size(); ++i) {
            const Point2 a = print[i], b = print[(i + 1) % print.size()];
            quad({a.x, a.y, low_m}, {b.x, b.y, low_m}, {b.x, b.y, high_m}, {a.x, a.y, high_m});
        }
        polygon(level_face(Part::object, 0, print, low_m), print);
        polygon(level_face(Part::object, 0, print, high_m), print);
    }

    std::vector<float> corners;
    std::vector<unsigned> indices;
    std::vector<std::size_t> faces;

private:
    static std::size_t find_ear(const Ring& ring) {
        const std::size_t n = ring.size();
        for (std::size_t i = 0; i < n; ++i) {
            const Point2 a = ring[(i + n - 1) % n], b = ring[i], c = ring[(i + 1) % n];
            if (cross(b - a, c - b) <= 0) continue;
            bool empty = true;
            for (std::size_t k = 0; k < n && empty; ++k) {
                if (k == i || k == (i + 1) % n || k == (i + n - 1) % n) continue;
                const Point2 p = ring[k];
                empty =
                    cross(b - a, p - a) < 0 || cross(c - b, p - b) < 0 || cross(a - c, p - c) < 0;
            }
            if (empty) return i;
        }
        return 0;
    }
};

/// An Embree scene over a mesh.
class RayScene {
public:
    RayScene(RTCDevice device, const Mesh& mesh) : faces_{mesh.faces} {
        scene_ = rtcNewScene(device);
        rtcSetSceneFlags(scene_, RTC_SCENE_FLAG_ROBUST);
        if (!mesh.faces.empty()) attach(device, mesh);
        rtcCommitScene(scene_);
    }
    RayScene(RayScene&& other) noexcept
        : scene_{std::exchange(other.scene_, nullptr)}, faces_{std::move(other.faces_)} {}
    RayScene(const RayScene&) = delete;
    RayScene& operator=(const RayScene&) = delete;
    RayScene& operator=(RayScene&&) = delete;
    ~RayScene() {
        if (scene_) rtcReleaseScene(scene_);
    }

    /// Does anything stand on the ray between these two distances from `from`?
    [[nodiscard]] bool blocked(Point3 from, Point3 along, double near_m, double far_m) const {
        if (faces_.empty() || far_m <= near_m) return false;
        RTCRay ray = make_ray(from + near_m * along, along, far_m - near_m);
        RTCIntersectContext context;
        rtcInitIntersectContext(&context);
        rtcOccluded1(scene_, &context, &ray);
        return ray.tfar < 0;
    }

    struct Hit {
        double distance_m = 0;
        std::size_t face = Mesh::no_face;
    };
    [[nodiscard]] std::optional<Hit> first_hit(Point3 from, Point3 along, double near_m) const {
        RTCRayHit hit{};
        hit.ray = make_ray(from + near_m * along, along, std::numeric_limits<double>::infinity());
        hit.hit.geomID = RTC_INVALID_GEOMETRY_ID;
        RTCIntersectContext context;
        rtcInitIntersectContext(&context);
        rtcIntersect1(scene_, &context, &hit);
        if (hit.hit.geomID == RTC_INVALID_GEOMETRY_ID) return std::nullopt;
        return Hit{near_m + static_cast<double>(hit.ray.tfar), faces_[hit.hit.primID]};
    }

private:
    void attach(RTCDevice device, const Mesh& mesh) {
        RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_TRIANGLE);
        void* corners =
            rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3,
                                    3 * sizeof(float), mesh.corners.size() / 3);
        void* indices =
            rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3,
                                    3 * sizeof(unsigned), mesh.indices.size() / 3);
        std::ranges::copy(mesh.corners, static_cast<float*>(corners));
        std::ranges::copy(mesh.indices, static_cast<unsigned*>(indices));
        rtcCommitGeometry(geometry);
        rtcAttachGeometry(scene_, geometry);
        rtcReleaseGeometry(geometry);
    }
    static RTCRay make_ray(Point3 from, Point3 along, double length_m) {
        RTCRay ray{};
        ray.org_x = static_cast<float>(from.x);
        ray.org_y = static_cast<float>(from.y);
        ray.org_z = static_cast<float>(from.z);
        ray.dir_x = static_cast<float>(along.x);
        ray.dir_y = static_cast<float>(along.y);
        ray.dir_z = static_cast<float>(along.z);
        ray.tfar = static_cast<float>(length_m);
        ray.mask = 0xFFFFFFFFu;
        return ray;
    }

    RTCScene scene_ = nullptr;
    std::vector<std::size_t> faces_;
};

class RayRoom {
public:
    /// Floats resolve about 1e-6 m at the size of a room, so a ray starts this far off its face.
    static constexpr double clear_m = 2e-5;

    RayRoom(RTCDevice device, const Room& r) : room_{r}, faces_{faces_of(r)} {
        for (const room::Window& w : r.windows) {
            inside_.emplace_back(device, inside_mesh(w));
            opening_.emplace_back(device, opening_mesh(w));
        }
        Mesh outside;
        outside.prism(r.floor, -r.floor_above_ground_m, r.height_m);
        for (const room::Building& b : r.buildings)
            outside.prism(b.footprint, -r.floor_above_ground_m,
                          b.height_m - r.floor_above_ground_m);
        outside_ = std::make_unique<RayScene>(device, outside);
    }

    [[nodiscard]] const std::vector<Face>& faces() const { return faces_; }

    /// Is p, on a face turned to the sun by `cosine` = normal . sun, lit through the window?
    [[nodiscard]] bool lit(Point3 p, double cosine, std::size_t window, Point3 sun) const {
        const room::Window& w = room_.windows[window];
        const room::WallFrame f = room::wall_frame(room_.floor, w.wall);
        const double facing = f.n.x * sun.x + f.n.y * sun.y;
        if (facing <= 0 || cosine <= 0) return false;
        const double inner_m = dot(f.left_corner - Point2{p.x, p.y}, f.n) / facing;
        const double outer_m = inner_m + w.reveal_m / facing;
        const double start_m = clear_m / cosine, slack_m = clear_m / facing;
        ++rays;
        if (inner_m <= 0 || !meets_inner_face(f, w, p + inner_m * sun)) return false;
        if (inside_[window].blocked(p, sun, start_m, inner_m + slack_m)) return false;
        if (opening_[window].blocked(p, sun, inner_m - slack_m, outer_m + slack_m)) return false;
        return !outside_->blocked(p, sun, outer_m + slack_m, 1e6);
    }

    struct Landing {
        std::size_t face = 0;
        Point3 at;
    };
    /// Where the ray through this point of the window's inner face lands in the room.
    [[nodiscard]] std::optional<Landing> land(std::size_t window, Point3 inner, Point3 sun) const {
        const room::WallFrame f = room::wall_frame(room_.floor, room_.windows[window].wall);
        const double facing = f.n.x * sun.x + f.n.y * sun.y;
        if (facing <= 0) return std::nullopt;
        const auto hit = inside_[window].first_hit(inner, -1.0 * sun, clear_m / facing);
        if (!hit || hit->face == Mesh::no_face) return std::nullopt;
        return Landing{hit->face, inner - hit->distance_m * sun};
    }

    /// The face that the ray from the sun through p meets next; nothing if it leaves by a window.
    [[nodiscard]] std::optional<std::size_t> behind(Point3 p, Point3 sun) const {
        const auto hit = inside_[0].first_hit(p, -1.0 * sun, 0);
        if (!hit || hit->face == Mesh::no_face) return std::nullopt;
        return hit->face;
    }

    mutable long rays = 0;

private:
    static bool meets_inner_face(const room::WallFrame& f, const room::Window& w, Point3 p) {
        const double u = dot(Point2{p.x, p.y} - f.left_corner, f.u);
        return u > w.left_m && u < w.left_m + w.width_m && p.z > w.sill_m &&
               p.z < w.sill_m + w.height_m;
    }

    Mesh inside_mesh(const room::Window& w) const {
        Mesh mesh;
        for (std::size_t i = 0; i < faces_.size(); ++i) {
            if (faces_[i].part == Part::wall && faces_[i].index == w.wall)
                pierced(mesh, i, w);
            else
                mesh.polygon(faces_[i], faces_[i].outline, i);
        }
        mesh.polygon(level_face(Part::floor, 0, room_.floor, room_.height_m), room_.floor);
        return mesh;
    }

    /// The wall of the window, without the window: what is left, right, below and above it.
    void pierced(Mesh& mesh, std::size_t i, const room::Window& w) const {
        const Face& f = faces_[i];
        const double width = f.outline[2].x, height = f.outline[2].y;
        const double right = w.left_m + w.width_m, head = w.sill_m + w.height_m;
        for (const Ring& rest :
             {rectangle(0, 0, w.left_m, height), rectangle(right, 0, width, height),
              rectangle(w.left_m, 0, right, w.sill_m), rectangle(w.left_m, head, right, height)})
            if (rest[2].x - rest[0].x > 1e-9 && rest[2].y - rest[0].y > 1e-9)
                mesh.quad(f.at(rest[0]), f.at(rest[1]), f.at(rest[2]), f.at(rest[3]), i);
    }

    Mesh opening_mesh(const room::Window& w) const {
        Mesh mesh;
        const room::WallFrame f = room::wall_frame(room_.floor, w.wall);
        const auto at = [&](double u, double z, double depth) {
            const Point2 p = f.left_corner + u * f.u + depth * f.n;
            return Point3{p.x, p.y, z};
        };
        const double right = w.left_m + w.width_m, head = w.sill_m + w.height_m;
        if (w.reveal_m > 0) {
            const Ring rim = rectangle(w.left_m, w.sill_m, right, head);
            for (std::size_t i = 0; i < 4; ++i) {
                const Point2 a = rim[i], b = rim[(i + 1) % 4];
                mesh.quad(at(a.x, a.y, 0), at(b.x, b.y, 0), at(b.x, b.y, w.reveal_m),
                          at(a.x, a.y, w.reveal_m));
            }
        }
        const double depth = w.reveal_m - w.bars.set_back_m, bar = w.bars.width_m;
        const double pane_w = (w.width_m - w.bars.upright * bar) / (w.bars.upright + 1);
        const double pane_h = (w.height_m - w.bars.level * bar) / (w.bars.level + 1);
        for (int i = 0; i < w.bars.upright; ++i) {
            const double u = w.left_m + (i + 1) * pane_w + i * bar;
            mesh.quad(at(u, w.sill_m, depth), at(u + bar, w.sill_m, depth),
                      at(u + bar, head, depth), at(u, head, depth));
        }
        for (int i = 0; i < w.bars.level; ++i) {
            const double z = w.sill_m + (i + 1) * pane_h + i * bar;
            mesh.quad(at(w.left_m, z, depth), at(right, z, depth), at(right, z + bar, depth),
                      at(w.left_m, z + bar, depth));
        }
        return mesh;
    }

    const Room& room_;
    std::vector<Face> faces_;
    std::vector<RayScene> inside_, opening_;
    std::unique_ptr<RayScene> outside_;
};

}  // namespace keyhour::test
