// What a room described in C must hold before rays are sent through it.

#include <algorithm>
#include <cmath>

#include "small_room.hpp"

namespace keyhour::c {
namespace {

using room::Point2;

template <class... Number>
bool are_finite(Number... x) noexcept {
    return (std::isfinite(x) && ...);
}

constexpr double longest_m = 1e4;

/// Within what a plan can hold.
template <class... Number>
bool are_lengths(Number... x) noexcept {
    return ((x >= 0 && x <= longest_m) && ...);
}

/// Corners of a C outline, looked at in place.
class Outline {
public:
    Outline(const keyhour_point2* corners, std::size_t n) noexcept : corners_{corners}, n_{n} {}
    [[nodiscard]] Point2 at(std::size_t i) const noexcept {
        return {corners_[i % n_].x_m, corners_[i % n_].y_m};
    }
    [[nodiscard]] bool is_finite() const noexcept {
        return std::all_of(corners_, corners_ + n_, [](const keyhour_point2& p) {
            return std::abs(p.x_m) <= longest_m && std::abs(p.y_m) <= longest_m;
        });
    }
    /// No two edges meet but neighbours in their corner, and something is enclosed.
    [[nodiscard]] bool is_simple() const noexcept {
        double twice = 0;
        for (std::size_t i = 0; i < n_; ++i) {
            twice += cross(at(i), at(i + 1));
            if (!is_good_edge(i)) return false;
        }
        return std::abs(twice) > 1e-6;
    }
    [[nodiscard]] double edge_m(std::size_t i) const noexcept { return length(at(i + 1) - at(i)); }

private:
    [[nodiscard]] bool is_good_edge(std::size_t i) const noexcept {
        const Point2 a = at(i), b = at(i + 1), c = at(i + 2);
        if (length(b - a) < 1e-6) return false;
        const bool folds_back =
            std::abs(cross(b - a, c - b)) <= 1e-9 * length(c - b) && dot(b - a, c - b) < 0;
        if (folds_back) return false;
        for (std::size_t k = i + 2; k < n_; ++k) {
            if (i == 0 && k == n_ - 1) continue;
            if (meet(a, b, at(k), at(k + 1))) return false;
        }
        return true;
    }
    [[nodiscard]] static bool meet(Point2 a, Point2 b, Point2 c, Point2 d) noexcept {
        return cross(b - a, c - a) * cross(b - a, d - a) <= 0 &&
               cross(d - c, a - c) * cross(d - c, b - c) <= 0 && boxes_meet(a, b, c, d);
    }
    [[nodiscard]] static bool boxes_meet(Point2 a, Point2 b, Point2 c, Point2 d) noexcept {
        return std::max(a.x, b.x) >= std::min(c.x, d.x) &&
               std::max(c.x, d.x) >= std::min(a.x, b.x) &&
               std::max(a.y, b.y) >= std::min(c.y, d.y) && std::max(c.y, d.y) >= std::min(a.y, b.y);
    }

    const keyhour_point2* corners_;
    std::size_t n_;
};

keyhour_status fault_of_outline(const keyhour_point2* corners, std::size_t n) noexcept {
    if (!corners || n < 3) return KEYHOUR_BAD_ROOM;
    const Outline outline{corners, n};
    if (!outline.is_finite()) return KEYHOUR_BAD_VALUE;
    return outline.is_simple() ? KEYHOUR_OK : KEYHOUR_BAD_ROOM;
}

keyhour_status fault_of_window(const keyhour_room& room, const keyhour_window& w) noexcept {
    constexpr int most_bars = 15;
    constexpr double hair_m = 1e-9;
    if (!are_lengths(w.left_m, w.width_m, w.sill_m, w.height_m, w.reveal_m, w.bar_width_m,
                     w.bar_set_back_m))
        return KEYHOUR_BAD_VALUE;
    if (w.bars_upright < 0 || w.bars_upright > most_bars || w.bars_level < 0 ||
        w.bars_level > most_bars || !(w.width_m > 0) || !(w.height_m > 0))
        return KEYHOUR_BAD_VALUE;
    if (w.wall >= room.corners) return KEYHOUR_BAD_ROOM;
    const double wall_m = Outline{room.floor, room.corners}.edge_m(w.wall);
    const bool fits = w.left_m + w.width_m <= wall_m + hair_m &&
                      w.sill_m + w.height_m <= room.height_m + hair_m &&
                      w.bar_set_back_m <= w.reveal_m + hair_m &&
                      w.bars_upright * w.bar_width_m < w.width_m &&
                      w.bars_level * w.bar_width_m < w.height_m;
    return fits ? KEYHOUR_OK : KEYHOUR_BAD_ROOM;
}

keyhour_status fault_of_mark(const keyhour_mark& m) noexcept {
    const bool is_box = m.box_m[0] > 0 && m.box_m[1] > 0 && m.box_m[2] > 0;
    const bool is_sphere = m.box_m[0] == 0 && m.box_m[1] == 0 && m.box_m[2] == 0 && m.radius_m > 0;
    if (!are_finite(m.x_m, m.y_m) ||
        !are_lengths(m.height_m, m.radius_m, m.box_m[0], m.box_m[1], m.box_m[2]))
        return KEYHOUR_BAD_VALUE;
    return is_box || is_sphere ? KEYHOUR_OK : KEYHOUR_BAD_VALUE;
}

keyhour_status fault_of_camera(const keyhour_room& room, const keyhour_camera& c) noexcept {
    if (c.aims_at >= room.mark_count) return KEYHOUR_BAD_ROOM;
    if (!are_finite(c.x_m, c.y_m) || !are_lengths(c.height_m)) return KEYHOUR_BAD_VALUE;
    for (const double view : {c.view_deg, c.view_vertical_deg})
        if (!(view > 0 && view < 180)) return KEYHOUR_BAD_VALUE;
    const keyhour_mark& m = room.marks[c.aims_at];
    const bool is_apart = std::hypot(m.x_m - c.x_m, m.y_m - c.y_m, m.height_m - c.height_m) > 1e-6;
    return is_apart ? KEYHOUR_OK : KEYHOUR_BAD_ROOM;
}

keyhour_status fault_of_bodies(const keyhour_body* bodies, std::size_t n) noexcept {
    for (std::size_t i = 0; i < n; ++i) {
        if (!are_lengths(bodies[i].height_m)) return KEYHOUR_BAD_VALUE;
        if (const auto fault = fault_of_outline(bodies[i].footprint, bodies[i].corners))
            return fault;
    }
    return KEYHOUR_OK;
}

bool lacks(const void* list, std::size_t n) noexcept {
    return n > 0 && !list;
}

}  // namespace

keyhour_status fault_of(const keyhour_room& room) noexcept {
    if (const auto fault = fault_of_outline(room.floor, room.corners)) return fault;
    if (!are_lengths(room.height_m, room.floor_above_ground_m) || !(room.height_m > 0) ||
        !are_finite(room.faces_deg))
        return KEYHOUR_BAD_VALUE;
    if (room.bearing_wall >= room.corners || lacks(room.windows, room.window_count) ||
        lacks(room.marks, room.mark_count) || lacks(room.cameras, room.camera_count) ||
        lacks(room.objects, room.object_count) || lacks(room.buildings, room.building_count))
        return KEYHOUR_BAD_ROOM;
    for (std::size_t i = 0; i < room.window_count; ++i)
        if (const auto fault = fault_of_window(room, room.windows[i])) return fault;
    for (std::size_t i = 0; i < room.mark_count; ++i)
        if (const auto fault = fault_of_mark(room.marks[i])) return fault;
    for (std::size_t i = 0; i < room.camera_count; ++i)
        if (const auto fault = fault_of_camera(room, room.cameras[i])) return fault;
    if (const auto fault = fault_of_bodies(room.objects, room.object_count)) return fault;
    return fault_of_bodies(room.buildings, room.building_count);
}

}  // namespace keyhour::c
