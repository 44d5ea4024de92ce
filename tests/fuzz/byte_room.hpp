#pragma once
// A sound room made from bytes, so that each change of a byte is another room: a fuzzer's way to
// rooms that no seed of dice would throw.

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <numbers>
#include <span>

#include "keyhour/room/plan.hpp"
#include "keyhour/room/room.hpp"
#include "support/random_room.hpp"

namespace keyhour::test {

class Bytes {
public:
    explicit Bytes(std::span<const std::uint8_t> bytes) : bytes_{bytes} {}
    std::uint8_t next() {
        if (at_ >= bytes_.size()) return 0;
        return bytes_[at_++];
    }
    /// 0..1, both of them often reached
    double unit() {
        const int high = next();  // first, whatever the compiler
        return std::min(1.0, (high * 256 + next()) / 65280.0);
    }
    double between(double low, double high) { return low + (high - low) * unit(); }
    std::size_t below(std::size_t count) { return next() % count; }

private:
    std::span<const std::uint8_t> bytes_;
    std::size_t at_ = 0;
};

inline Ring byte_outline(Bytes& bytes, double size_m) {
    const double a = size_m * bytes.between(0.5, 1.5), b = size_m * bytes.between(0.5, 1.5);
    const double p = a * bytes.between(-0.8, 0.1), q = a * bytes.between(0.2, 0.8);
    const double r = b * bytes.between(-0.7, 0.7);
    switch (const auto kind = static_cast<int>(bytes.below(5))) {
        case 0:
        case 1:
        case 2:
            return winged_outline(kind, a, b, p, q, r);
        case 3:
            return {{-a, r}, {p, -b}, {q, -b}, {a, 0.9 * b}, {p, b}};  // slanting walls
        default:
            return {{-a, -b}, {a, -b}, {0, b}};
    }
}

inline Ring byte_footprint(Bytes& bytes, double size_m, Point2 middle) {
    const double turn = bytes.below(2) == 0 ? 0 : bytes.between(0, 2 * std::numbers::pi);
    return placed(byte_outline(bytes, size_m), turn, middle);
}

inline void add_byte_window(Bytes& bytes, Room& r) {
    Window w;
    w.wall = bytes.below(r.floor.size());
    const double wall_m = room::wall_frame(r.floor, w.wall).width_m;
    w.width_m = std::max(0.05, std::min(wall_m, bytes.between(0.1, 3)));
    if (w.width_m > wall_m) return;
    w.left_m = (wall_m - w.width_m) * bytes.unit();
    w.height_m = r.height_m * bytes.between(0.05, 1);
    w.sill_m = (r.height_m - w.height_m) * bytes.unit();
    w.reveal_m = bytes.between(0, 0.7);
    w.bars.upright = static_cast<int>(bytes.below(4));
    w.bars.level = static_cast<int>(bytes.below(4));
    if (w.bars.upright + w.bars.level > 0) {
        w.bars.width_m = std::min({bytes.between(0.005, 0.1), w.width_m / 5, w.height_m / 5});
        w.bars.set_back_m = w.reveal_m * bytes.unit();
    }
    w.name = numbered("window", r.windows.size());
    const auto taken = [&](const Window& other) { return windows_overlap(w, other); };
    if (std::ranges::none_of(r.windows, taken)) r.windows.push_back(w);
}

/// @return a room with one window at least, or none
inline Room byte_room(Bytes& bytes) {
    Room r;
    r.floor = byte_footprint(bytes, bytes.between(1, 5), {0, 0});
    if (bytes.below(2) == 1) std::reverse(r.floor.begin(), r.floor.end());
    for (std::size_t i = 0; i < r.floor.size(); ++i)
        r.walls.push_back(numbered("wall", i));
    r.height_m = bytes.between(2, 6);
    r.floor_above_ground_m = bytes.between(0, 12);
    r.bearing.wall = bytes.below(r.floor.size());
    r.bearing.faces = Angle::degrees(bytes.between(0, 359.9));
    for (std::size_t i = 0, n = 1 + bytes.below(3); i < n; ++i)
        add_byte_window(bytes, r);
    for (std::size_t i = 0, n = bytes.below(3); i < n; ++i) {
        const Point2 middle{bytes.between(-4, 4), bytes.between(-4, 4)};
        const Ring print = byte_footprint(bytes, bytes.between(0.1, 1), middle);
        const auto taken = [&](const Object& o) { return overlaps(o.footprint, print); };
        if (!lies_within(r.floor, print) || std::ranges::any_of(r.objects, taken)) continue;
        r.objects.push_back({numbered("object", i), print, r.height_m * bytes.between(0.05, 0.95)});
    }
    for (std::size_t i = 0, n = bytes.below(3); i < n; ++i) {
        const Point2 middle{bytes.between(-40, 40), bytes.between(-40, 40)};
        const Ring print = byte_footprint(bytes, bytes.between(0.5, 10), middle);
        if (overlaps(r.floor, print)) continue;
        r.buildings.push_back({numbered("building", i), print, bytes.between(0.5, 25)});
    }
    for (std::size_t i = 0, n = 1 + bytes.below(3); i < n; ++i) {
        Mark m;
        m.name = numbered("mark", i);
        // Before a window, where light may come.
        if (r.windows.empty()) break;
        const Window& w = r.windows[bytes.below(r.windows.size())];
        const room::WallFrame f = room::wall_frame(r.floor, w.wall);
        m.at = f.left_corner + (w.left_m + bytes.between(-0.5, 1.5) * w.width_m) * f.u;
        m.at = m.at - bytes.between(0.1, 4) * f.n;
        m.height_m = w.sill_m + bytes.between(-1, 1) * w.height_m;
        m.radius_m = bytes.between(0.03, 0.4);
        if (bytes.below(2) == 1)
            m.box_m = {bytes.between(0.05, 1), bytes.between(0.05, 1), bytes.between(0.05, 1)};
        if (stands_free(r, m)) r.marks.push_back(m);
    }
    return r;
}

}  // namespace keyhour::test
