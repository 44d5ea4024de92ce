#pragma once
/// @file
/// Rooms thrown at random: floors convex and not, in both turning senses, with windows, bars,
/// objects and buildings. Every room is one that a location file could describe.

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "keyhour/room/plan.hpp"
#include "keyhour/room/room.hpp"
#include "support/dice.hpp"

namespace keyhour::test {

using room::Building;
using room::Mark;
using room::Object;
using room::Point2;
using room::Point3;
using room::Ring;
using room::Room;
using room::Window;

/// "window 3"
inline std::string numbered(std::string name, std::size_t n) {
    name += ' ';
    name += std::to_string(n);
    return name;
}

inline double distance_to_edge(const Ring& ring, Point2 p) {
    double least = 1e9;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Point2 a = ring[i], ab = ring[(i + 1) % ring.size()] - a;
        const double t = std::clamp(dot(p - a, ab) / dot(ab, ab), 0.0, 1.0);
        least = std::min(least, length(p - (a + t * ab)));
    }
    return least;
}

inline bool edges_cross(const Ring& one, const Ring& other) {
    for (std::size_t i = 0; i < one.size(); ++i) {
        const Point2 a = one[i], b = one[(i + 1) % one.size()];
        for (std::size_t k = 0; k < other.size(); ++k) {
            const Point2 c = other[k], d = other[(k + 1) % other.size()];
            if (cross(b - a, c - a) * cross(b - a, d - a) <= 0 &&
                cross(d - c, a - c) * cross(d - c, b - c) <= 0)
                return true;
        }
    }
    return false;
}

inline bool lies_within(const Ring& outer, const Ring& inner) {
    return room::contains(outer, inner[0]) && !edges_cross(outer, inner);
}

inline bool overlaps(const Ring& one, const Ring& other) {
    return room::contains(one, other[0]) || room::contains(other, one[0]) ||
           edges_cross(one, other);
}

inline Ring placed(Ring ring, double turn_rad, Point2 shift) {
    const double c = std::cos(turn_rad), s = std::sin(turn_rad);
    for (Point2& p : ring)
        p = Point2{c * p.x - s * p.y, s * p.x + c * p.y} + shift;
    return ring;
}

/// Corners at growing angles around the origin; convex when all radii are equal.
inline Ring radial_outline(Dice& dice, double least_m, double most_m) {
    const int n = dice.whole(3, 9);
    Ring ring;
    for (int i = 0; i < n; ++i) {
        const double angle = 2 * std::numbers::pi * (i + dice.between(0, 0.6)) / n;
        const double radius = dice.between(least_m, most_m);
        ring.push_back({radius * std::cos(angle), radius * std::sin(angle)});
    }
    return ring;
}

/// Rectangle, L or U about the origin, 2a x 2b; what is cut away begins at p, ends at q, down to r.
inline Ring winged_outline(int wings, double a, double b, double p, double q, double r) {
    if (wings == 0) return {{-a, -b}, {a, -b}, {a, b}, {-a, b}};
    if (wings == 1) return {{-a, -b}, {a, -b}, {a, r}, {p, r}, {p, b}, {-a, b}};
    return {{-a, -b}, {a, -b}, {a, b}, {q, b}, {q, r}, {p, r}, {p, b}, {-a, b}};
}

/// Rectangle, L, U, T, convex many-sided, or star-like; about 2 x size_m across, counter-clockwise.
inline Ring outline(Dice& dice, double size_m) {
    const double a = size_m * dice.between(0.6, 1.4), b = size_m * dice.between(0.6, 1.4);
    const double p = a * dice.between(-0.7, 0.2), q = a * dice.between(0.3, 0.8);
    const double r = b * dice.between(-0.6, 0.6);
    switch (const int kind = dice.whole(0, 5)) {
        case 0:
        case 1:
        case 2:
            return winged_outline(kind, a, b, p, q, r);
        case 3:
            return {{-a, r}, {p, r}, {p, -b}, {q, -b}, {q, r}, {a, r}, {a, b}, {-a, b}};
        case 4:
            return radial_outline(dice, size_m, size_m * 1.000001);
        default:
            return radial_outline(dice, 0.5 * size_m, 1.5 * size_m);
    }
}

/// In either turning sense, starting at any corner.
inline Ring shuffled(Dice& dice, Ring ring) {
    if (dice.chance(0.5)) std::reverse(ring.begin(), ring.end());
    std::rotate(ring.begin(), ring.begin() + static_cast<long>(dice.index(ring.size())),
                ring.end());
    return ring;
}

inline room::Bars random_bars(Dice& dice, const Window& w) {
    room::Bars bars;
    if (dice.chance(0.4)) return bars;
    bars.upright = dice.whole(0, 3);
    bars.level = dice.whole(0, 3);
    bars.width_m = std::min({dice.between(0.01, 0.08), w.width_m / 5, w.height_m / 5});
    bars.set_back_m = dice.chance(0.3) ? 0 : w.reveal_m * dice.unit();
    return bars;
}

/// A window somewhere in the room; some reach the wall's end, the floor or the ceiling.
inline Window random_window(Dice& dice, const Room& r) {
    Window w;
    w.wall = dice.index(r.floor.size());
    const double wall_m = room::wall_frame(r.floor, w.wall).width_m;
    w.width_m = std::min(wall_m, dice.between(0.25, 2.5));
    w.left_m = (wall_m - w.width_m) * std::clamp(dice.between(-0.1, 1.1), 0.0, 1.0);
    w.height_m = r.height_m * dice.between(0.15, 0.9);
    w.sill_m = (r.height_m - w.height_m) * std::clamp(dice.between(-0.15, 1.1), 0.0, 1.0);
    w.reveal_m = dice.chance(0.2) ? 0 : dice.between(0.02, 0.6);
    w.bars = random_bars(dice, w);
    return w;
}

inline bool windows_overlap(const Window& a, const Window& b) {
    const double gap_m = 0.01;
    return a.wall == b.wall && a.left_m < b.left_m + b.width_m + gap_m &&
           b.left_m < a.left_m + a.width_m + gap_m && a.sill_m < b.sill_m + b.height_m + gap_m &&
           b.sill_m < a.sill_m + a.height_m + gap_m;
}

inline void add_windows(Dice& dice, Room& r) {
    const std::size_t wanted = 1 + dice.index(4);
    while (r.windows.size() < wanted) {
        Window w = random_window(dice, r);
        const bool taken = std::ranges::any_of(
            r.windows, [&](const Window& other) { return windows_overlap(w, other); });
        if (taken && !r.windows.empty() && dice.chance(0.05)) return;
        if (taken) continue;
        w.name = numbered("window", r.windows.size());
        r.windows.push_back(w);
    }
}

/// Up to three objects inside, some of them through one another, some flat against a wall.
inline void add_objects(Dice& dice, Room& r) {
    for (int tries = 0; tries < 6 && r.objects.size() < 3; ++tries) {
        const double size = dice.between(0.2, 0.8);
        const Point2 corner = r.floor[dice.index(r.floor.size())];
        const Point2 across = r.floor[dice.index(r.floor.size())];
        const Point2 middle = corner + dice.between(0.2, 0.8) * (across - corner);
        const double turn = dice.between(0, 6.3);
        Ring print = placed(outline(dice, size), turn, middle);
        if (dice.chance(0.2)) {
            const room::WallFrame f = room::wall_frame(r.floor, dice.index(r.floor.size()));
            const Point2 a = f.left_corner + dice.between(0.05, 0.5) * f.width_m * f.u;
            const Point2 b = a + dice.between(0.1, 0.4) * f.width_m * f.u;
            const Point2 deep = (-size) * f.n;
            print = {a, b, b + deep, a + deep};
            // Drawn a hair inside, so that the test for crossing edges lets it stand.
            const Ring tested = placed(print, 0, (-1e-4) * f.n);
            if (!lies_within(r.floor, tested)) continue;
            // Two of them through one another would show the light one side twice.
            if (std::ranges::any_of(r.objects,
                                    [&](const Object& o) { return overlaps(o.footprint, print); }))
                continue;
        } else if (!lies_within(r.floor, print)) {
            continue;
        }
        r.objects.push_back({numbered("object", r.objects.size()), shuffled(dice, print),
                             r.height_m * dice.between(0.1, 0.95)});
    }
}

inline void add_buildings(Dice& dice, Room& r) {
    const int wanted = dice.whole(0, 3);
    for (int i = 0; i < wanted; ++i) {
        const double size = dice.between(0.5, 10), turn = dice.between(0, 6.3);
        const double away = size + dice.between(3, 40);
        const Point2 middle = r.floor[0] + Point2{away * std::cos(turn), away * std::sin(turn)};
        const double about = dice.between(0, 6.3);
        const Ring print = placed(outline(dice, size), about, middle);
        if (overlaps(r.floor, print)) continue;
        r.buildings.push_back(
            {numbered("building", r.buildings.size()), shuffled(dice, print), dice.between(1, 20)});
    }
}

/// A room without marks and cameras. Dice are thrown one after the other, here and in all that
/// throws rooms: the order of a call's arguments, and of a sum's parts, is the compiler's.
inline Room random_room(Dice& dice) {
    Room r;
    const double turn = dice.chance(0.4) ? 0 : dice.between(0, 2 * std::numbers::pi);
    const Point2 shift{dice.between(-5, 5), dice.between(-5, 5)};
    r.floor = shuffled(dice, placed(outline(dice, dice.between(1.5, 4)), turn, shift));
    for (std::size_t i = 0; i < r.floor.size(); ++i)
        r.walls.push_back(numbered("wall", i));
    r.height_m = dice.between(2.2, 5);
    r.floor_above_ground_m = dice.chance(0.3) ? 0 : dice.between(0, 9);
    r.bearing.wall = dice.index(r.floor.size());
    r.bearing.faces = Angle::degrees(dice.between(0, 360));
    add_windows(dice, r);
    add_objects(dice, r);
    add_buildings(dice, r);
    return r;
}

inline Point3 direction(double plan_angle_rad, double altitude_rad) {
    const double level = std::cos(altitude_rad);
    return {level * std::cos(plan_angle_rad), level * std::sin(plan_angle_rad),
            std::sin(altitude_rad)};
}

/// A sun that shines on one of the windows; one in five grazes its wall or the floor.
inline Point3 random_sun(Dice& dice, const Room& r) {
    const Window& w = r.windows[dice.index(r.windows.size())];
    const Point2 n = room::wall_frame(r.floor, w.wall).n;
    const double facing = std::atan2(n.y, n.x), degree = std::numbers::pi / 180;
    double off = dice.between(-80, 80), altitude = dice.between(1, 70);
    if (dice.chance(0.1)) {
        const double to_right = dice.chance(0.5) ? 1 : -1;
        off = to_right * dice.between(88, 89.95);
    }
    if (dice.chance(0.1)) altitude = dice.between(0.1, 1);
    return direction(facing + off * degree, altitude * degree);
}

/// A sun square to a window's wall: in many rooms its light runs along the walls at either side.
inline Point3 square_sun(Dice& dice, const Room& r) {
    const Window& w = r.windows[dice.index(r.windows.size())];
    const Point2 n = room::wall_frame(r.floor, w.wall).n;
    const double up = std::sin(dice.between(0.05, 1.4)), level = std::sqrt(1 - up * up);
    return {level * n.x, level * n.y, up};
}

/// A mark wholly inside the room and clear of every object; nothing if luck fails.
inline bool stands_free(const Room& r, const Mark& m) {
    double reach = m.radius_m, half_tall = m.radius_m;
    if (m.box_m) {
        reach = std::hypot((*m.box_m)[0], (*m.box_m)[1]) / 2;
        half_tall = (*m.box_m)[2] / 2;
    }
    if (m.height_m < half_tall + 0.01 || m.height_m > r.height_m - half_tall - 0.01) return false;
    if (!room::contains(r.floor, m.at) || distance_to_edge(r.floor, m.at) < reach + 0.01)
        return false;
    return std::ranges::none_of(r.objects, [&](const Object& o) {
        const bool beside = !room::contains(o.footprint, m.at) &&
                            distance_to_edge(o.footprint, m.at) > reach + 0.01;
        return !beside && m.height_m < o.height_m + half_tall + 0.01;
    });
}

/// Where light that passes the window's inner face at (across, up), 0..1 each, is after throw_m.
inline Point3 in_the_beam(const Room& r, const Window& w, Point3 sun, double across, double up,
                          double throw_m) {
    const room::WallFrame f = room::wall_frame(r.floor, w.wall);
    const Point2 at = f.left_corner + (w.left_m + across * w.width_m) * f.u;
    return Point3{at.x, at.y, w.sill_m + up * w.height_m} - throw_m * sun;
}

inline Mark sized_mark(Dice& dice, Point3 centre, std::size_t number) {
    Mark m;
    m.name = numbered("mark", number);
    m.at = {centre.x, centre.y};
    m.height_m = centre.z;
    m.radius_m = dice.between(0.05, 0.35);
    if (dice.chance(0.5))
        m.box_m = {dice.between(0.05, 0.8), dice.between(0.05, 0.8), dice.between(0.05, 0.8)};
    return m;
}

/// A centimetre or two above whatever object stands under it: a head over a table.
inline void rest_on_object(Dice& dice, const Room& r, Mark& m) {
    const double half_tall = m.box_m ? (*m.box_m)[2] / 2 : m.radius_m;
    for (const Object& o : r.objects)
        if (room::contains(o.footprint, m.at))
            m.height_m = o.height_m + half_tall + dice.between(0.011, 0.03);
}

/// Marks placed in or near the beam of each sun, so that many are half covered.
inline void add_marks(Dice& dice, Room& r, std::size_t wanted, const std::vector<Point3>& suns) {
    for (int tries = 0; tries < 60 && r.marks.size() < wanted; ++tries) {
        const Window& w = r.windows[dice.index(r.windows.size())];
        const double far = dice.between(0.3, 4), up = dice.between(-0.2, 1.2),
                     across = dice.between(-0.2, 1.2);
        const Point3 p = in_the_beam(r, w, suns[dice.index(suns.size())], across, up, far);
        Mark m = sized_mark(dice, p, r.marks.size());
        if (dice.chance(0.5)) rest_on_object(dice, r, m);
        if (stands_free(r, m)) r.marks.push_back(m);
    }
}

}  // namespace keyhour::test
