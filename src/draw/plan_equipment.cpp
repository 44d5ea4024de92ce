#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "keyhour/site/plan_frame.hpp"
#include "plan_sheet.hpp"
#include "plan_symbols.hpp"
#include "words/length.hpp"

namespace keyhour::draw {

/// How far one sees from a point of the room along u before a wall stands in the way, m.
double PlanSheet::sight(Point2 from, Point2 u) const {
    double least = 30;
    const room::Ring& floor = location_.room->floor;
    for (std::size_t i = 0; i < floor.size(); ++i) {
        const Point2 a = floor[i], d = floor[(i + 1) % floor.size()] - a;
        const double det = cross(u, d);
        if (std::abs(det) < 1e-12) continue;
        const double t = cross(a - from, d) / det, s = cross(a - from, u) / det;
        if (t > 1e-6 && s >= 0 && s <= 1) least = std::min(least, t);
    }
    return least;
}

void PlanSheet::draw_fields() {
    const room::Room& room = *location_.room;
    for (const room::Camera& c : room.cameras) {
        Point2 aim = room.marks[c.aims_at].at - c.at;
        if (length(aim) < 1e-9) continue;
        aim = (1 / length(aim)) * aim;
        const double half = c.view.in_degrees() / 2;
        for (const double turn : {-half, half}) {
            const Point2 u = turned(aim, turn);
            const Point2 end = c.at + sight(c.at, u) * u;
            svg_.line(at(c.at), at(end), {pen::thin, "4 1 0.6 1"});
            labels_.avoid(at(c.at), at(end), 0.6);
        }
    }
}

/// A lamp outside works through the nearest opening, one inside on the nearest mark.
std::optional<Point2> PlanSheet::lamp_aim(const site::Lamp& lamp) const {
    std::vector<Point2> aims;
    if (lamp.place == site::Lamp::Place::outside)
        for (const room::Window& w : location_.room->windows) {
            const room::WallFrame f = wall_frame(location_.room->floor, w.wall);
            if (w.cover == room::Cover::open)
                aims.push_back(f.left_corner + (w.left_m + w.width_m / 2) * f.u);
        }
    else
        for (const room::Mark& m : location_.room->marks)
            aims.push_back(m.at);
    const auto nearest =
        std::ranges::min_element(aims, {}, [&](Point2 p) { return length(p - *lamp.at); });
    if (nearest == aims.end() || length(*nearest - *lamp.at) < 1e-6) return std::nullopt;
    return *nearest;
}

void PlanSheet::draw_lamps() {
    for (const site::Lamp& lamp : location_.lamps) {
        if (!lamp.at) continue;
        const Point2 here = at(*lamp.at);
        std::string label = lamp.name;
        if (lamp.height_m) label += ", " + words::length(*lamp.height_m, frame_.units, 1) + " up";
        if (!is_on_paper(here)) {
            go_beyond(here, off_room({*lamp.at, *lamp.at, *lamp.at}), label);
            continue;
        }
        labels_.keep_free({here.x - 2.9, here.y - 2.9, here.x + 2.9, here.y + 2.9});
        if (std::holds_alternative<site::Lumens>(lamp.photometry) || !location_.room) {
            draw_hanging_lamp(svg_, here);
        } else {
            const bool is_key = content_.planned && content_.planned->question.lamp &&
                                &lamp == &location_.lamps[content_.planned->question.lamp->lamp];
            const auto aim =
                is_key ? location_.room->marks[content_.planned->question.mark].at : lamp_aim(lamp);
            const Point2 toward =
                aim ? (1 / length(at(*aim) - here)) * (at(*aim) - here) : Point2{0, -1};
            if (const auto* sheet = std::get_if<light::DataSheet>(&lamp.photometry);
                sheet && aim && !is_key) {
                const double reach = 1.25 * length(at(*aim) - here);
                for (const double side : {-0.5, 0.5}) {
                    const Point2 end =
                        here + reach * turned(toward, side * sheet->beam.in_degrees());
                    svg_.line(here, end, {pen::thin, "1.2 0.8"});
                    labels_.avoid(here, end, 0.6);
                }
                label += fmt::format(", beam {:.0f} degrees", sheet->beam.in_degrees());
            }
            draw_lamp(svg_, here, toward);
        }
        lamp_labels_.push_back({{label}, {here, 3.8, {letters::small}}});
    }
}

void PlanSheet::draw_spots() {
    for (const site::Spot& spot : location_.spots) {
        const Point2 place = site::on_plan(location_, spot), here = at(place);
        const Point2 toward = on_paper({wrapped_turn(spot.camera_bearing)});
        if (!is_on_paper(here)) {
            go_beyond(here, off_room({place, place, place}), "outside: " + spot.name);
            continue;
        }
        for (const double side : {-0.5, 0.5}) {
            const Point2 end = here + 14.0 * turned(toward, side * spot.view.in_degrees());
            svg_.line(here, end, {pen::thin, "4 1 0.6 1"});
            labels_.avoid(here, end, 0.6);
        }
        draw_camera(svg_, here, toward);
        keep_camera_free(here, toward);
        spot_labels_.push_back({{"outside: " + spot.name}, {here, 3.8, {letters::small}}});
    }
}

/// No word lies on its body or lens.
void PlanSheet::keep_camera_free(Point2 here, Point2 toward) {
    const Point2 lens = here + 0.4 * toward, back = here - 5.2 * toward;
    labels_.keep_free(Box{std::min(lens.x, back.x), std::min(lens.y, back.y),
                          std::max(lens.x, back.x), std::max(lens.y, back.y)}
                          .grown(1.3));
}

Point2 PlanSheet::aim_of(const room::Camera& c) const {
    const Point2 way = at(location_.room->marks[c.aims_at].at) - at(c.at);
    return length(way) > 1e-9 ? (1 / length(way)) * way : way;
}

void PlanSheet::draw_symbols() {
    if (!location_.room) return;
    for (const room::Mark& m : location_.room->marks) {
        const Point2 c = at(m.at);
        const Point2 half = m.box_m ? Point2{(*m.box_m)[0] / 2 * k(), (*m.box_m)[1] / 2 * k()}
                                    : Point2{m.radius_m * k(), m.radius_m * k()};
        if (m.box_m)
            svg_.rect(c.x - half.x, c.y - half.y, 2 * half.x, 2 * half.y, {pen::opening});
        else
            svg_.circle(c, half.x, {pen::opening});
        draw_mark(svg_, c);
        const Point2 reach{std::max(half.x, 2.2), std::max(half.y, 2.2)};
        labels_.keep_free({c.x - reach.x, c.y - reach.y, c.x + reach.x, c.y + reach.y});
    }
    for (const room::Camera& c : location_.room->cameras) {
        draw_camera(svg_, at(c.at), aim_of(c));
        keep_camera_free(at(c.at), aim_of(c));
    }
}

}  // namespace keyhour::draw
