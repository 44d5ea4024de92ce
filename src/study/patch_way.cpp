#include "keyhour/study/patch_way.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "keyhour/room/camera_axes.hpp"
#include "keyhour/study/sun_in_room.hpp"
#include "room/vectors.hpp"

namespace keyhour::study {
namespace {

using room::Point3;

constexpr Seconds way_step{30};
constexpr Seconds way_tolerance{0.5};
constexpr double point_radius_m = 0.02;
/// Less of a silhouette is rounding.
constexpr double least_lit = 1e-6;

Point3 eye_of(const room::Camera& camera) {
    return {camera.at.x, camera.at.y, camera.height_m};
}

Angle off_axis(const room::Room& room, const room::Camera& camera, Point3 sun) {
    const Point3 axis = room::axes(room, camera).forward;
    return Angle::radians(std::atan2(norm(cross3(axis, sun)), dot(axis, sun)));
}

/// The room with a mark more for each lens, then for each point: what lights a mark lights them.
room::Room with_lenses_and_points(room::Room room, std::span<const NamedPoint> points) {
    for (const room::Camera& c : room.cameras)
        room.marks.push_back({c.name, c.at, c.height_m, lens_radius_m, std::nullopt});
    for (const NamedPoint& p : points)
        room.marks.push_back({p.name, {p.at.x, p.at.y}, p.at.z, point_radius_m, std::nullopt});
    return room;
}

/// The plane of a ring: a point of it and its unit normal towards the lit side.
struct Plane {
    Point3 through, normal;
};
Plane plane_of(const std::vector<Point3>& ring) {
    Point3 n;
    for (std::size_t i = 1; i + 1 < ring.size(); ++i) {
        const Point3 a = ring[i] - ring[0], b = ring[i + 1] - ring[0];
        n = n + Point3{a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
    }
    return {ring[0], (1 / norm(n)) * n};
}

/// Where the eye sees the sun's mirror image in a plane; nothing from behind it.
std::optional<Point3> mirror_image(const Plane& plane, Point3 eye, Point3 sun) {
    const double height = dot(eye - plane.through, plane.normal);
    const double rise = dot(sun, plane.normal);
    if (height <= 0) return std::nullopt;
    // From the eye's own image behind the plane straight to the sun.
    const Point3 image = eye - 2 * height * plane.normal;
    return image + (height / rise) * sun;
}

double yes_or_no(bool yes) {
    return yes ? 1 : -1;
}

/// One window's sun in the room, instant by instant.
class SunThrough {
public:
    SunThrough(const RoomStudy& study, const room::Scene& scene, std::size_t window)
        : study_{study}, scene_{scene}, window_{window} {}

    [[nodiscard]] bool is_up(const Moment& m) const { return m.above_skyline_deg > 0; }

    /// Of the scene's mark, lenses and points among them; below zero without light.
    double lit(std::size_t mark, const Moment& m) const {
        if (!is_up(m)) return -1;
        const Point3 sun = study_.sun(m);
        const double share = scene_.coverage(mark, window_, sun) - least_lit;
        if (share > 0) return share;
        return std::clamp(scene_.centre_margin(mark, window_, sun), -1.0, 0.0) - least_lit;
    }

    /// Samples are asked again and again; what is solved between them is not kept.
    const std::vector<room::Patch>& patches(const Moment& m) {
        const auto known = kept_.find(m.at.unix_s());
        if (known != kept_.end()) return known->second;
        const Point3 sun = study_.sun(m);
        auto found = is_up(m) ? scene_.patches(window_, sun) : std::vector<room::Patch>{};
        return kept_[m.at.unix_s()] = std::move(found);
    }

    bool lights_object(std::size_t object, const Moment& m) {
        const room::Surface wanted{room::Surface::Kind::object, object};
        return std::ranges::any_of(patches(m),
                                   [&](const room::Patch& p) { return p.surface == wanted; });
    }

    bool is_in_frame(std::size_t camera, const Moment& m) {
        return std::ranges::any_of(patches(m), [&](const room::Patch& p) {
            return room::in_frame(study_.room(), study_.room().cameras[camera], p);
        });
    }

    /// The surface in which this camera sees the sun's mirror image.
    std::optional<room::Surface> glare(std::size_t camera, const Moment& m) {
        const room::Camera& c = study_.room().cameras[camera];
        const Point3 eye = eye_of(c), sun = study_.sun(m);
        for (const room::Patch& p : patches(m))
            for (const auto& ring : p.outlines) {
                const auto image = mirror_image(plane_of(ring), eye, sun);
                if (!image || !room::in_frame(study_.room(), c, *image - eye)) continue;
                constexpr double on_it_m = 1e-6;
                if (room::distance_to(p, *image) < on_it_m) return p.surface;
            }
        return std::nullopt;
    }

    /// Of the patch's middle on a surface; nothing if it is not there half a minute either way.
    std::optional<double> speed(room::Surface surface, Instant mid) {
        constexpr Seconds half_minute{30};
        const auto middle = [&](Instant t) -> std::optional<Point3> {
            for (const room::Patch& p : patches(study_.path().at(t)))
                if (p.surface == surface) return p.centroid;
            return std::nullopt;
        };
        const auto a = middle(mid - half_minute), b = middle(mid + half_minute);
        if (!a || !b) return std::nullopt;
        return norm(*b - *a);
    }

    /// The largest patch that `chosen` takes.
    template <class Chosen>
    std::optional<room::Surface> largest(Instant t, const Chosen& chosen) {
        const room::Patch* best = nullptr;
        for (const room::Patch& p : patches(study_.path().at(t)))
            if (chosen(p) && (!best || p.area_m2 > best->area_m2)) best = &p;
        return best ? std::optional{best->surface} : std::nullopt;
    }

private:
    const RoomStudy& study_;
    const room::Scene& scene_;
    std::size_t window_;
    std::map<double, std::vector<room::Patch>> kept_;
};

/// All that one window's sun crosses in one of its spans.
class WayThroughRoom {
public:
    WayThroughRoom(const RoomStudy& study, const room::Scene& scene, std::size_t window,
                   std::vector<Crossing>& out)
        : study_{study}, scene_{scene}, window_{window}, sun_{study, scene, window}, out_{out} {}

    void look(const Span& sunny) {
        samples_ = study_.path().samples(sunny.from, sunny.to, way_step);
        const room::Room& room = study_.room();
        for (std::size_t i = 0; i < room.marks.size(); ++i)
            lit(Crossed::mark, i, i);
        for (std::size_t i = 0; i < room.objects.size(); ++i)
            spans(Crossed::object, i,
                  [&](const Moment& m) { return yes_or_no(sun_.lights_object(i, m)); });
        const std::size_t first_lens = room.marks.size();
        const std::size_t first_point = first_lens + room.cameras.size();
        for (std::size_t i = first_point; i < scene_.room().marks.size(); ++i)
            lit(Crossed::point, i - first_point, i);
        for (std::size_t i = 0; i < room.cameras.size(); ++i) {
            spans(Crossed::frame, i,
                  [&](const Moment& m) { return yes_or_no(sun_.is_in_frame(i, m)); });
            spans(Crossed::lens, i, [&](const Moment& m) {
                const bool from_before =
                    off_axis(room, room.cameras[i], study_.sun(m)) < Angle::degrees(90);
                return from_before ? sun_.lit(first_lens + i, m) : -1.0;
            });
            spans(Crossed::glare, i,
                  [&](const Moment& m) { return yes_or_no(sun_.glare(i, m).has_value()); });
        }
    }

private:
    void lit(Crossed what, std::size_t index, std::size_t mark) {
        spans(what, index, [&](const Moment& m) { return sun_.lit(mark, m); });
    }

    template <class Margin>
    void spans(Crossed what, std::size_t index, const Margin& margin) {
        for (const Span& span : find_spans(study_.path(), samples_, margin, way_tolerance)) {
            Crossing crossing{window_, what, index, span, {}, {}, false, {}};
            describe(crossing);
            out_.push_back(crossing);
        }
    }

    void describe(Crossing& c) {
        const Instant mid = c.span.from + 0.5 * c.span.length();
        const room::Room& room = study_.room();
        if (c.what == Crossed::lens) return describe_lens(c);
        std::optional<room::Surface> where;
        if (c.what == Crossed::object) {
            where = room::Surface{room::Surface::Kind::object, c.index};
        } else if (c.what == Crossed::glare) {
            c.surface = where = sun_.glare(c.index, study_.path().at(mid));
        } else if (c.what == Crossed::frame) {
            where = sun_.largest(mid, [&](const room::Patch& p) {
                return room::in_frame(room, room.cameras[c.index], p);
            });
        } else {
            const std::size_t mark = c.what == Crossed::mark
                                         ? c.index
                                         : room.marks.size() + room.cameras.size() + c.index;
            where = scene_.surface_behind(mark, study_.sun(study_.path().at(mid)));
        }
        if (where) c.speed_m_per_min = sun_.speed(*where, mid);
    }

    void describe_lens(Crossing& c) const {
        const room::Room& room = study_.room();
        const room::Camera& camera = room.cameras[c.index];
        c.off_axis = Angle::degrees(90);
        for (const Moment& m : study_.path().samples(c.span.from, c.span.to, way_step)) {
            c.off_axis = std::min(c.off_axis, off_axis(room, camera, study_.sun(m)));
            c.sun_in_frame = c.sun_in_frame || room::in_frame(room, camera, study_.sun(m));
        }
    }

    const RoomStudy& study_;
    const room::Scene& scene_;
    std::size_t window_;
    SunThrough sun_;
    std::vector<Moment> samples_;
    std::vector<Crossing>& out_;
};

/// What only a passing shadow of a sample's step parts belongs together; the sun's own spans do
/// not.
void sort_by_window_and_thing(std::vector<Crossing>& crossings) {
    std::ranges::stable_sort(crossings, {}, [](const Crossing& c) {
        return std::tuple{c.window, c.what, c.index, c.span.from.unix_s()};
    });
}

}  // namespace

std::vector<Crossing> crossings(const RoomStudy& study, Instant from, Instant to,
                                std::span<const NamedPoint> points) {
    const room::Scene scene{with_lenses_and_points(study.room(), points)};
    std::vector<Crossing> out;
    for (std::size_t w = 0; w < study.room().windows.size(); ++w) {
        if (!lets_sun_in(study.room().windows[w])) continue;
        for (Span span : sun_spans(study, w, from, to)) {
            const std::size_t before = out.size();
            WayThroughRoom{study, scene, w, out}.look(span);
            // What the window's own sun begins or ends is no cut.
            for (std::size_t i = before; i < out.size(); ++i) {
                out[i].span.runs_at_start = out[i].span.runs_at_start && span.runs_at_start;
                out[i].span.runs_at_end = out[i].span.runs_at_end && span.runs_at_end;
            }
        }
    }
    sort_by_window_and_thing(out);
    return out;
}

}  // namespace keyhour::study
