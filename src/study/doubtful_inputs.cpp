#include "keyhour/study/doubtful_inputs.hpp"

#include <algorithm>

#include "keyhour/site/doubts.hpp"

namespace keyhour::study {
namespace {

constexpr double smallest_opening_m = 0.01;

void move(room::Window& w, const room::Room& room, const Draw& draw) {
    const site::WindowDoubts d = site::doubts(w);
    const double wall = room::wall_frame(room.floor, w.wall).width_m;
    const double least_wide = w.bars.upright * w.bars.width_m + smallest_opening_m;
    const double least_high = w.bars.level * w.bars.width_m + smallest_opening_m;
    const auto kept = [](double value, double least, double most) {
        return std::max(std::min(value, most), least);
    };
    w.reveal_m = std::max(0.0, w.reveal_m + draw[Input::reveal] * d.reveal.within_m);
    w.left_m = kept(w.left_m + draw[Input::left] * d.left.within_m, 0, wall - least_wide);
    w.sill_m = std::min(w.sill_m + draw[Input::sill] * d.sill.within_m, room.height_m - least_high);
    w.width_m =
        kept(w.width_m + draw[Input::width] * d.width.within_m, least_wide, wall - w.left_m);
    w.height_m = kept(w.height_m + draw[Input::height] * d.height.within_m, least_high,
                      room.height_m - w.sill_m);
    w.bars.set_back_m = std::min(w.bars.set_back_m, w.reveal_m);
}

void move(room::Mark& m, const room::Room& room, const Draw& draw) {
    const site::MarkDoubts d = site::doubts(m);
    m.at.x += draw.mark_x * d.at.within_m;
    m.at.y += draw.mark_y * d.at.within_m;
    m.height_m =
        std::clamp(m.height_m + draw[Input::mark_height] * d.height.within_m, 0.0, room.height_m);
}

void move(room::Camera& c, const Draw& draw) {
    const double within_m = site::doubt(c).within_m;
    c.at = c.at + room::Point2{draw.camera_x * within_m, draw.camera_y * within_m};
}

/// A building or a tree. @param location  as stated
template <class Outside>
void move(Outside& outside, const site::Location& location, const Draw& draw) {
    const double within_m = site::place_doubt(outside, location).within_m;
    const room::Point2 by{draw.outside_x * within_m, draw.outside_y * within_m};
    for (room::Point2& corner : outside.footprint)
        corner = corner + by;
    outside.height_m *= 1 + draw[Input::heights_outside] * site::usual_building_within;
}

/// The longer side of the outline's bounds.
double longest_m(const room::Ring& ring) {
    const auto [x0, x1] = std::ranges::minmax(ring, {}, &room::Point2::x);
    const auto [y0, y1] = std::ranges::minmax(ring, {}, &room::Point2::y);
    return std::max(x1.x - x0.x, y1.y - y0.y);
}

void move_floor(room::Room& room, const Draw& draw) {
    const double share =
        draw[Input::floor] * site::floor_doubt(room).within_m / longest_m(room.floor);
    const room::Point2 first = room.floor.front();
    for (room::Point2& corner : room.floor)
        corner = corner + share * (corner - first);
}

site::Horizon moved(const site::Horizon& horizon, Angle by) {
    std::vector<site::HorizonPoint> points = horizon.points();
    for (site::HorizonPoint& p : points)
        p.altitude = std::clamp(p.altitude + by, Angle::degrees(-89), Angle::degrees(89));
    return site::Horizon{std::move(points)};
}

bool any_window(const room::Room& room, site::LengthDoubt site::WindowDoubts::*which) {
    return std::any_of(room.windows.begin(), room.windows.end(), [&](const room::Window& w) {
        return (site::doubts(w).*which).within_m > 0;
    });
}

bool any_mark(const room::Room& room, site::LengthDoubt site::MarkDoubts::*which) {
    return std::any_of(room.marks.begin(), room.marks.end(),
                       [&](const room::Mark& m) { return (site::doubts(m).*which).within_m > 0; });
}

}  // namespace

Draw::Draw(const CubePoint& point, const DoubtScale& scale) noexcept {
    const auto off = [&](std::size_t dimension, std::size_t input) {
        return (2 * point[dimension] - 1) * scale[input];
    };
    // A dimension of the cube for each input, and a second one for a place.
    constexpr auto outside = static_cast<std::size_t>(Input::places_outside);
    constexpr auto camera = static_cast<std::size_t>(Input::camera_place);
    constexpr auto floor = static_cast<std::size_t>(Input::floor);
    static_assert(sobol_dimensions == input_count + 3);
    mark_x = off(0, 0);
    mark_y = off(outside, 0);
    for (std::size_t i = 1; i < outside; ++i)
        of[i] = off(i, i);
    outside_x = off(outside + 1, outside);
    outside_y = off(outside + 2, outside);
    camera_x = off(outside + 3, camera);
    camera_y = off(outside + 4, camera);
    of[floor] = off(outside + 5, floor);
}

site::Location moved(const site::Location& location, const Draw& draw) {
    site::Location l = location;
    l.site.weather.pressure_hpa *= 1 + draw[Input::refraction] * site::usual_refraction_within;
    const Angle skyline_by = draw[Input::skyline] * site::horizon_within(location.site);
    if (!l.site.horizon.is_level()) l.site.horizon = moved(l.site.horizon, skyline_by);
    for (site::Spot& spot : l.spots)
        if (spot.horizon) spot.horizon = moved(*spot.horizon, skyline_by);
    for (room::Building& b : site::buildings(l))
        move(b, location, draw);
    for (site::Tree& t : l.trees)
        move(t, location, draw);
    if (!l.room) return l;
    room::Bearing& bearing = l.room->bearing;
    bearing.faces = wrapped_turn(bearing.faces + draw[Input::bearing] * bearing.within);
    bearing.within = {};
    move_floor(*l.room, draw);
    for (room::Window& w : l.room->windows)
        move(w, *l.room, draw);
    for (room::Mark& m : l.room->marks)
        move(m, *l.room, draw);
    for (room::Camera& c : l.room->cameras)
        move(c, draw);
    return l;
}

Seconds clock_off(const site::Location& location, const Draw& draw) {
    return Seconds{draw[Input::clock] * site::clock_within_s(location)};
}

bool in_doubt(const site::Location& location, Input input) {
    switch (input) {
        case Input::clock:
            return site::clock_within_s(location) > 0;
        case Input::refraction:
            return true;
        case Input::skyline:
            return site::horizon_within(location.site) > Angle{};
        case Input::heights_outside:
        case Input::places_outside:
            return !site::buildings(location).empty() || !location.trees.empty();
        default:
            break;
    }
    if (!location.room) return false;
    const room::Room& room = *location.room;
    switch (input) {
        case Input::bearing:
            return room.bearing.within > Angle{};
        case Input::mark_place:
            return any_mark(room, &site::MarkDoubts::at);
        case Input::mark_height:
            return any_mark(room, &site::MarkDoubts::height);
        case Input::left:
            return any_window(room, &site::WindowDoubts::left);
        case Input::width:
            return any_window(room, &site::WindowDoubts::width);
        case Input::sill:
            return any_window(room, &site::WindowDoubts::sill);
        case Input::height:
            return any_window(room, &site::WindowDoubts::height);
        case Input::reveal:
            return any_window(room, &site::WindowDoubts::reveal);
        case Input::camera_place:
            return !room.cameras.empty();
        case Input::floor:
            return site::floor_doubt(room).within_m > 0;
        default:
            return false;
    }
}

}  // namespace keyhour::study
