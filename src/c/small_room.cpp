#include "small_room.hpp"

#include <algorithm>
#include <cmath>

namespace keyhour::c {
namespace {

using room::Edge;
using room::Point2;

Point2 point(const keyhour_point2& p) noexcept {
    return {p.x_m, p.y_m};
}

std::size_t most_corners(const keyhour_room& room) noexcept {
    std::size_t most = room.corners;
    for (std::size_t i = 0; i < room.object_count; ++i)
        most = std::max(most, room.objects[i].corners);
    for (std::size_t i = 0; i < room.building_count; ++i)
        most = std::max(most, room.buildings[i].corners);
    return most;
}

SmallWindow as_window(const keyhour_window& w) noexcept {
    return {w.wall,
            w.left_m,
            w.width_m,
            w.sill_m,
            w.height_m,
            w.reveal_m,
            {w.bars_upright, w.bars_level, w.bar_width_m, w.bar_set_back_m}};
}

SmallMark as_mark(const keyhour_mark& m) noexcept {
    SmallMark out{{m.x_m, m.y_m}, m.height_m, m.radius_m, {}, m.radius_m};
    if (m.box_m[0] > 0) {
        out.box_m = {m.box_m[0], m.box_m[1], m.box_m[2]};
        out.half_size_m = std::hypot(m.box_m[0], m.box_m[1], m.box_m[2]) / 2;
    }
    return out;
}

SmallCamera as_camera(const keyhour_camera& c, const keyhour_mark& m) noexcept {
    return {c.aims_at, Point2{c.x_m, c.y_m} - Point2{m.x_m, m.y_m},
            room::axes_along({m.x_m - c.x_m, m.y_m - c.y_m, m.height_m - c.height_m}),
            tan(Angle::degrees(c.view_deg) / 2), tan(Angle::degrees(c.view_vertical_deg) / 2)};
}

/// Bearing of the plan's +y axis.
Azimuth bearing_of(const keyhour_room& room) noexcept {
    const Point2 a = point(room.floor[room.bearing_wall]);
    const Point2 b = point(room.floor[(room.bearing_wall + 1) % room.corners]);
    Real twice = 0;
    for (std::size_t i = 0; i < room.corners; ++i)
        twice += cross(point(room.floor[i]), point(room.floor[(i + 1) % room.corners]));
    const Point2 d = b - a, n = twice > 0 ? Point2{d.y, -d.x} : Point2{-d.y, d.x};
    return {wrapped_turn(Angle::degrees(room.faces_deg) - Angle::radians(std::atan2(n.x, n.y)))};
}

}  // namespace

SmallRoom::SmallRoom(const keyhour_room& room, Arena arena) noexcept
    : arena_{arena},
      floor_{&arena_},
      openings_{&arena_},
      walls_{&arena_},
      marks_{&arena_},
      cameras_{&arena_},
      objects_{&arena_},
      floor_pieces_{&arena_},
      body_{&arena_},
      turn_{bearing_of(room)} {
    for (std::size_t i = 0; i < room.corners; ++i)
        floor_.push_back(point(room.floor[i]));
    body_.floor = floor();
    body_.height_m = room.height_m;
    add_bodies(room);
    add_subjects(room);
    openings_.reserve(room.window_count);
    for (std::size_t w = 0; w < room.window_count && has_memory(); ++w) {
        walls_.push_back(room.windows[w].wall);
        openings_.push_back(SmallOpening(&arena_));
        SmallOpening& o = openings_.back();
        prepare_opening(o, as_window(room.windows[w]), body_);
        o.marks.reserve(marks_.size());
        o.before.reserve(marks_.size());
        for (const SmallMark& mark : marks_)
            add_mark(o, mark, mark.half_size_m, &arena_);
    }
}

void SmallRoom::add_bodies(const keyhour_room& room) {
    const std::size_t most = most_corners(room);
    Point2* const scratch_at = arena_.take_for<Point2>(most);
    if (!scratch_at) return;
    const std::span<Point2> scratch{scratch_at, most};
    const Real ground = -room.floor_above_ground_m;
    const bool is_convex = room::is_convex_floor(floor());
    body_.add(floor(), ground, room.height_m, {Edge::own_walls, 0}, scratch, floor_pieces_);
    if (!is_convex) body_.own = floor_pieces_;
    objects_.reserve(room.object_count);
    for (std::size_t i = 0; i < room.object_count && has_memory(); ++i) {
        const keyhour_body& object = room.objects[i];
        ArenaList<Point2> footprint{&arena_};
        for (std::size_t k = 0; k < object.corners; ++k)
            footprint.push_back(point(object.footprint[k]));
        objects_.push_back({footprint.data(), footprint.size(), object.height_m});
    }
    for (std::size_t i = 0; i < objects_.size(); ++i)
        body_.add(objects_[i].footprint(), 0, objects_[i].height_m, {Edge::object, i}, scratch,
                  body_.objects);
    for (std::size_t i = 0; i < room.building_count && has_memory(); ++i) {
        const keyhour_body& b = room.buildings[i];
        std::transform(b.footprint, b.footprint + b.corners, scratch.begin(), point);
        room::for_each_convex_piece(scratch.first(b.corners), [&](const room::Corners& corners) {
            body_.buildings.push_back({corners, ground, ground + b.height_m, {Edge::building, i}});
        });
    }
}

void SmallRoom::add_subjects(const keyhour_room& room) {
    marks_.reserve(room.mark_count);
    for (std::size_t i = 0; i < room.mark_count; ++i)
        marks_.push_back(as_mark(room.marks[i]));
    cameras_.reserve(room.camera_count);
    for (std::size_t i = 0; i < room.camera_count; ++i)
        cameras_.push_back(as_camera(room.cameras[i], room.marks[room.cameras[i].aims_at]));
}

Real SmallScene::centre_margin(std::size_t mark, std::size_t window,
                               room::Point3 sun) const noexcept {
    const SmallOpening& o = room_.openings()[window];
    const auto d = distances_within(o, o.marks[mark], room_.marks()[mark].height_m, sun);
    return std::min({d[0], d[1], d[2], d[3]});
}

Real SmallScene::coverage(std::size_t mark, std::size_t window, room::Point3 sun) const noexcept {
    const SmallOpening& o = room_.openings()[window];
    room::SunRays rays;
    if (!make_rays(o, sun, rays)) return 0;
    return coverage_of(o, mark, room_.marks()[mark], rays, covers_);
}

}  // namespace keyhour::c
