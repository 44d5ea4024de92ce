#include "keyhour/study/facade_light.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "radians.hpp"

namespace keyhour::study {
namespace {

using room::Point2;
using room::Point3;

constexpr Seconds facade_step{120};
constexpr double forever = std::numeric_limits<double>::infinity();

Point2 level(Point3 v) {
    return {v.x, v.y};
}

/// A facade in the plan's axes.
struct Pane {
    Point2 start, across;
    double width;
    Point2 along, outward;  // unit vectors
    double bottom, top;

    Pane(const room::Room& room, const room::Building& b)
        : start{b.footprint[b.facade->side]},
          across{b.footprint[(b.facade->side + 1) % b.footprint.size()] - start},
          width{room::length(across)},
          along{(1 / width) * across},
          outward{room::signed_area(b.footprint) > 0 ? Point2{along.y, -along.x}
                                                     : Point2{-along.y, along.x}},
          bottom{b.facade->bottom_m - room.floor_above_ground_m},
          top{b.facade->top_m - room.floor_above_ground_m} {}

    [[nodiscard]] Point3 middle() const {
        const Point2 m = start + (0.5 * width) * along;
        return {m.x, m.y, 0.5 * (bottom + top)};
    }
    /// Metres within the pane's nearest edge, negative outside.
    [[nodiscard]] double within(Point3 p) const {
        const double u = room::dot(level(p) - start, along);
        return std::min({u, width - u, p.z - bottom, top - p.z});
    }
};

/// Everything upright on the plan, asked whether it stands in a ray's way.
class Surroundings {
public:
    explicit Surroundings(const room::Room& room) : room_{room} {}

    /// @param reach  how far along `way`, in lengths of it
    [[nodiscard]] bool block(Point3 from, Point3 way, double reach) const {
        const double ground = -room_.floor_above_ground_m;
        for (const room::Building& b : room_.buildings)
            if (cuts(b.footprint, ground + b.height_m, from, way, reach)) return true;
        return cuts(room_.floor, room_.height_m, from, way, reach);
    }

private:
    static bool cuts(const room::Ring& ring, double top, Point3 from, Point3 way, double reach) {
        constexpr double start_off = 1e-6;  // and end before a facade
        const Point2 p = level(from), d = level(way);
        for (std::size_t i = 0; i < ring.size(); ++i) {
            const Point2 a = ring[i], e = ring[(i + 1) % ring.size()] - a;
            const double turn = room::cross(d, e);
            // Of a side along the way u is no number from 0 to 1.
            const double t = room::cross(a - p, e) / turn, u = room::cross(a - p, d) / turn;
            if (u >= 0 && u <= 1 && t > start_off && t < reach - start_off &&
                from.z + t * way.z < top)
                return true;
        }
        return false;
    }

    const room::Room& room_;
};

/// One facade and one window.
class Throw {
public:
    Throw(const RoomStudy& study, const Surroundings& around, const Pane& pane, std::size_t window)
        : study_{study}, around_{around}, pane_{pane} {
        const room::Window& w = study.room().windows[window];
        const room::WallFrame frame = room::wall_frame(study.room().floor, w.wall);
        wall_out_ = frame.n;
        const Point3 middle = study.scene().middle(window);
        // Just outside: the wall's own body is not in the way.
        constexpr double clear_m = 1e-3;
        const double out = w.reveal_m + clear_m;
        eye_ = {middle.x + out * frame.n.x, middle.y + out * frame.n.y, middle.z};
    }

    /// Could any light come this way? The window stands before the facade.
    [[nodiscard]] bool may_reach() const {
        return room::dot(level(eye_) - pane_.start, pane_.outward) > 0;
    }

    [[nodiscard]] double by_glass(const Moment& m) const {
        const Point3 sun = study_.sun(m);
        const double facing = room::dot(level(sun), pane_.outward);
        const double lit = std::min(facing / degree, m.above_skyline_deg);
        if (lit <= 0) return lit;
        const Point3 way = mirrored(sun, pane_.outward);
        const double out = room::dot(level(way), wall_out_);
        const double reach = room::dot(level(eye_) - pane_.start, pane_.outward) / facing;
        const Point3 hit = eye_ + reach * way;
        const double margin = std::min({lit, out, pane_.within(hit)});
        if (margin <= 0) return margin;
        return around_.block(eye_, way, reach) || around_.block(hit, sun, forever) ? -1 : margin;
    }

    [[nodiscard]] double by_render(const Moment& m) const {
        const Point3 sun = study_.sun(m), middle = pane_.middle(), way = middle - eye_;
        const double facing = room::dot(level(sun), pane_.outward);
        const double lit = std::min(facing / degree, m.above_skyline_deg);
        if (room::dot(level(way), wall_out_) <= 0 || around_.block(eye_, way, 1) ||
            around_.block(middle, sun, forever))
            return -1;
        return lit;
    }

private:
    const RoomStudy& study_;
    const Surroundings& around_;
    const Pane& pane_;
    Point2 wall_out_;
    Point3 eye_;
};

/// The room alone: what the image's light does inside does not know the buildings, as the image
/// stands behind one of them.
room::Room without_buildings(room::Room room) {
    room.buildings.clear();
    return room;
}

std::vector<std::size_t> marks_lit(const room::Scene& bare, std::size_t window, Point3 light) {
    constexpr double least_share = 0.05;
    std::vector<std::size_t> marks;
    for (std::size_t mark = 0; mark < bare.room().marks.size(); ++mark)
        if (bare.coverage(mark, window, light) >= least_share) marks.push_back(mark);
    return marks;
}

}  // namespace

Point3 mirrored(Point3 sun, Point2 normal) noexcept {
    const double twice = 2 * room::dot(Point2{sun.x, sun.y}, normal);
    return {sun.x - twice * normal.x, sun.y - twice * normal.y, sun.z};
}

std::vector<FacadeLight> facade_light(const RoomStudy& study, Instant from, Instant to) {
    const room::Room& room = study.room();
    std::vector<FacadeLight> out;
    std::vector<Moment> samples;
    std::optional<room::Scene> bare;
    const Surroundings around{room};
    for (std::size_t b = 0; b < room.buildings.size(); ++b) {
        if (!room.buildings[b].facade || room.buildings[b].footprint.empty()) continue;
        const Pane pane{room, room.buildings[b]};
        if (samples.empty()) samples = study.path().samples(from, to, facade_step);
        for (std::size_t w = 0; w < room.windows.size(); ++w) {
            const Throw thrown{study, around, pane, w};
            if (!thrown.may_reach()) continue;
            FacadeLight light{b, w, room.buildings[b].facade->kind, {}};
            const bool glass = light.kind == room::Facade::Kind::glass;
            for (const Span& span : find_spans(study.path(), samples, [&](const Moment& m) {
                     return glass ? thrown.by_glass(m) : thrown.by_render(m);
                 })) {
                ThrownBack visit{span, {}};
                if (glass) {
                    if (!bare) bare.emplace(without_buildings(room));
                    const Moment m = study.path().at(span.from + 0.5 * span.length());
                    visit.marks = marks_lit(*bare, w, mirrored(study.sun(m), pane.outward));
                }
                light.visits.push_back(std::move(visit));
            }
            if (!light.visits.empty()) out.push_back(std::move(light));
        }
    }
    return out;
}

}  // namespace keyhour::study
