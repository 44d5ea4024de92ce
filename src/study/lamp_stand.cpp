#include "keyhour/study/lamp_stand.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "keyhour/light/glass.hpp"
#include "room/vectors.hpp"
#include "room_surfaces.hpp"
#include "way_between.hpp"

namespace keyhour::study {

using room::Point2;
using room::Point3;

namespace {

Point3 centre_of(const room::Mark& mark) {
    return {mark.at.x, mark.at.y, mark.height_m};
}

double off_axis_deg(Point3 a, Point3 b) {
    const double c = dot(a, b) / (norm(a) * norm(b));
    return Angle::radians(std::acos(std::clamp(c, -1.0, 1.0))).in_degrees();
}

/// Looks for a place, distance by distance and direction by direction.
class StandSearch {
public:
    StandSearch(const room::Scene& scene, const site::Lamp& lamp, const StandWish& wish)
        : scene_{scene},
          lamp_{lamp},
          wish_{wish},
          frame_{scene.frame(wish.window)},
          reveal_{scene.room().windows[wish.window].reveal_m},
          mark_{centre_of(scene.room().marks[wish.mark])},
          clear_{std::max(least_off_wall_m, face() / 2)} {}

    StandAnswer find() const {
        StandAnswer answer;
        const auto tried = along_wish();
        const auto best = std::min_element(
            tried.begin(), tried.end(), [](const StandPlace& a, const StandPlace& b) {
                return a.obstacles.size() <
                       b.obstacles.size();  // the first of equals: the farthest
            });
        answer.wanted = *best;
        if (!answer.wanted.is_reachable()) find_nearest(answer);
        return answer;
    }

    StandPlace judge(Point3 at) const {
        StandPlace p;
        p.at = at;
        p.distance_m = norm(at - mark_);
        p.height_above_ground_m = at.z + wish_.ground_below_m;
        const Point2 d = Point2{at.x, at.y} - frame_.left_corner;
        const room::Window& w = scene_.room().windows[wish_.window];
        p.off_wall_m = dot(d, frame_.n) - reveal_;
        p.along_wall_m = dot(d, frame_.u) - (w.left_m + w.width_m / 2);
        const auto against = [&](Hindrance what, room::LimitingEdge edge = {}) {
            p.obstacles.push_back({what, edge});
        };
        constexpr double touch_m = 1e-6;  // a limit itself is within it
        if (p.off_wall_m <= 0)
            against(Hindrance::behind_wall);
        else if (p.off_wall_m < clear_ - touch_m)
            against(Hindrance::too_near_wall);
        stands_in(at, against);
        if (p.height_above_ground_m < face() / 2 - touch_m) against(Hindrance::below_ground);
        if (lamp_.stand_max_m && p.height_above_ground_m > *lamp_.stand_max_m + touch_m)
            against(Hindrance::above_stand);
        if (p.off_wall_m <= 0) return p;
        const room::LampThrow light{scene_, wish_.window, at};
        p.coverage = light.coverage(wish_.mark);
        if (p.coverage < wish_.coverage)
            against(Hindrance::not_covered, largest(light.losses(wish_.mark)));
        return p;
    }

private:
    [[nodiscard]] double face() const {
        return lamp_.diffusion ? lamp_.diffusion->diameter_m : lamp_.face_diameter_m;
    }

    template <class Against>
    void stands_in(Point3 at, const Against& against) const {
        const room::Room& room = scene_.room();
        const Point2 on_plan{at.x, at.y};
        if (at.z < room.height_m && room::contains(room.floor, on_plan))
            against(Hindrance::in_own_walls);
        for (std::size_t i = 0; i < room.buildings.size(); ++i) {
            const room::Building& b = room.buildings[i];
            if (at.z < b.height_m - room.floor_above_ground_m &&
                room::contains(b.footprint, on_plan))
                against(Hindrance::in_building, {room::Edge::building, i});
        }
    }

    static room::LimitingEdge largest(const std::vector<room::Loss>& losses) {
        const auto most = std::max_element(
            losses.begin(), losses.end(),
            [](const room::Loss& a, const room::Loss& b) { return a.fraction < b.fraction; });
        return most == losses.end() ? room::LimitingEdge{} : most->edge;
    }

    /// A wish by height: where on its level the lamp is, so far from the mark.
    [[nodiscard]] Point3 at_height(double distance) const {
        const double rise = *wish_.height_m - wish_.ground_below_m - mark_.z;
        const double level = std::sqrt(std::max(distance * distance - rise * rise, 0.0));
        const double across = std::hypot(wish_.toward.x, wish_.toward.y);
        return mark_ +
               Point3{wish_.toward.x / across * level, wish_.toward.y / across * level, rise};
    }
    [[nodiscard]] Point3 wanted_at(double distance) const {
        return wish_.height_m ? at_height(distance) : mark_ + distance * wish_.toward;
    }

    /// Distances worth a trial in a direction, the farthest first.
    [[nodiscard]] std::vector<double> distances(Point3 toward, int steps) const {
        if (wish_.distance_m) return {*wish_.distance_m};
        const double outward = dot(Point2{toward.x, toward.y}, frame_.n);
        const double mark_out = dot(Point2{mark_.x, mark_.y} - frame_.left_corner, frame_.n);
        double near = 0.5, far = wish_.farthest_m;
        if (outward > 1e-6) near = std::max(near, (reveal_ + clear_ - mark_out) / outward);
        const double mark_high = wish_.ground_below_m + mark_.z;
        if (lamp_.stand_max_m && toward.z > 1e-6)
            far = std::min(far, (*lamp_.stand_max_m - mark_high) / toward.z);
        if (toward.z < -1e-6) far = std::min(far, (face() / 2 - mark_high) / toward.z);
        if (far <= near) return {near};
        std::vector<double> out;
        for (int i = 0; i < steps; ++i)
            out.push_back(far * std::pow(near / far, static_cast<double>(i) / (steps - 1)));
        return out;
    }

    [[nodiscard]] std::vector<StandPlace> along_wish() const {
        constexpr int steps = 24;
        // By height the lamp's own does not grow with the distance.
        const Point3 way =
            wish_.height_m ? unit(Point3{wish_.toward.x, wish_.toward.y, 0}) : wish_.toward;
        std::vector<StandPlace> out;
        for (const double d : distances(way, steps)) {
            out.push_back(judge(wanted_at(d)));
            if (out.back().is_reachable()) break;
        }
        return out;
    }

    struct Candidate {
        StandPlace place;
        double off_deg = 0, cost = std::numeric_limits<double>::infinity();
    };

    /// Right at the wall any window is wide, and any patch: to be half as far off counts as much as
    /// two degrees (this project's choice).
    [[nodiscard]] double cost(double off_deg, double distance) const {
        constexpr double degrees_a_halving = 2;
        return off_deg + degrees_a_halving *
                             std::log2(wish_.farthest_m / std::min(distance, wish_.farthest_m));
    }

    /// The farthest reachable place in a direction, if it is better than what there is.
    void look(Point3 toward, Point3 wanted, Candidate& best) const {
        const double off = off_axis_deg(toward, wanted);
        constexpr int steps = 8;
        for (const double d : distances(toward, steps)) {
            if (cost(off, d) >= best.cost) return;
            StandPlace place = judge(mark_ + d * toward);
            if (!place.is_reachable()) continue;
            best = {std::move(place), off, cost(off, d)};
            return;
        }
    }

    /// Light comes through the opening, so its points are all the directions there are; then the
    /// steps between them are halved.
    void find_nearest(StandAnswer& answer) const {
        const room::Window& w = scene_.room().windows[wish_.window];
        const Point3 wanted = answer.wanted.at - mark_;
        Candidate best;
        const auto through = [&](double across, double up) {
            const Point2 p = frame_.left_corner + (w.left_m + across * w.width_m) * frame_.u;
            return unit(Point3{p.x, p.y, w.sill_m + up * w.height_m} - mark_);
        };
        constexpr int grid = 20;
        double at_across = 0, at_up = 0;
        const auto try_at = [&](double across, double up) {
            const double before = best.cost;
            look(through(across, up), wanted, best);
            if (best.cost >= before) return false;
            at_across = across;
            at_up = up;
            return true;
        };
        for (int i = 0; i < grid; ++i)
            for (int k = 0; k < grid; ++k)
                try_at((i + 0.5) / grid, (k + 0.5) / grid);
        if (std::isinf(best.cost)) return;
        for (double step = 0.5 / grid; step > 1e-4; step /= 2)
            for (bool better = true; better;) {
                better = false;
                const double across = at_across, up = at_up;
                for (const int i : {-1, 0, 1})
                    for (const int k : {-1, 0, 1})
                        better = try_at(across + i * step, up + k * step) || better;
            }
        answer.nearest = best.place;
        answer.nearest_off_deg = best.off_deg;
    }

    const room::Scene& scene_;
    const site::Lamp& lamp_;
    const StandWish& wish_;
    const room::WallFrame& frame_;
    double reveal_;
    Point3 mark_;
    double clear_;
};

/// What a ray meets next, and how far off.
struct Arrival {
    room::Surface surface;
    bool on_ceiling;  ///< then the surface means nothing
};

/// @param to_lamp  from the point to the lamp. A ray that goes up and meets neither wall nor object
///                 meets the ceiling.
Arrival landing(const room::Scene& scene, Point3 from, Point3 to_lamp) {
    const room::Surface surface = scene.surface_down_sun(from, to_lamp);
    return {surface, to_lamp.z < 0 && surface.kind == room::Surface::Kind::floor};
}

/// Where a ray from the lamp through the mark lands behind it: distance from the mark.
double throw_behind(const room::Scene& scene, Point3 mark, Point3 to_lamp) {
    const room::Room& room = scene.room();
    const Point3 ray = -1.0 * to_lamp;
    const Arrival behind = landing(scene, mark, to_lamp);
    if (behind.on_ceiling) return std::max(0.0, (room.height_m - mark.z) / ray.z);
    switch (behind.surface.kind) {
        case room::Surface::Kind::floor:
            return std::max(0.0, -mark.z / ray.z);
        case room::Surface::Kind::wall: {
            const room::WallFrame f = room::wall_frame(room.floor, behind.surface.index);
            const Point2 d = Point2{mark.x, mark.y} - f.left_corner;
            return std::max(0.0, -dot(d, f.n) / dot(Point2{ray.x, ray.y}, f.n));
        }
        case room::Surface::Kind::object:
            break;
    }
    // An object has several faces: to its middle is near enough.
    const room::Object& o = room.objects[behind.surface.index];
    Point2 middle;
    for (const Point2 p : o.footprint)
        middle = middle + (1.0 / static_cast<double>(o.footprint.size())) * p;
    return length(middle - Point2{mark.x, mark.y});
}

/// An object counts as the floor (room_surfaces.hpp).
double reflectance_of(const Arrival& on, const room::Reflectance& r) {
    if (on.on_ceiling) return r.ceiling;
    return on.surface.kind == room::Surface::Kind::wall ? r.walls : r.floor;
}

/// The light through the opening, and what the room gives back of it.
void add_flux(const room::Scene& scene, const LampOutput& output, const LampPose& pose,
              const room::LampThrow& light, const StandWish& wish, LampLight& out) {
    constexpr int cells = 8;
    const room::Room& room = scene.room();
    const room::Window& w = room.windows[wish.window];
    const room::WallFrame& f = scene.frame(wish.window);
    double landing_lm = 0;
    for (const room::ThrownPart& part : light.parts(cells, cells)) {
        const double lm = output.candela(pose, part.toward) * part.solid_angle_sr *
                          light::transmittance_at_cosine(panes_of(w), part.incidence_cosine);
        constexpr double inside_m = 1e-3;  // past the window's own wall
        const Point3 from = part.through - inside_m * Point3{f.n.x, f.n.y, 0};
        const Arrival on = landing(scene, from, -1.0 * part.toward);
        out.entering_lm += lm;
        landing_lm += lm * reflectance_of(on, room.reflectance);
    }
    if (out.entering_lm > 0)
        out.given_back_lx = light::sphere_lx(out.entering_lm, landing_lm / out.entering_lm,
                                             reflectances_for(room, w));
}

void add_other_windows(const room::Scene& scene, const LampOutput& output, const LampPose& pose,
                       const StandWish& wish, LampLight& out) {
    constexpr double least_share = 0.01;
    const double key_lx = output.level_lx(pose, scene.middle(wish.window));
    for (std::size_t w = 0; w < scene.room().windows.size(); ++w) {
        if (w == wish.window) continue;
        const room::LampThrow light{scene, w, pose.at};
        const double level = output.level_lx(pose, scene.middle(w));
        const double open = light.open_share();
        if (open <= 0 || level < least_share * key_lx) continue;
        out.also_enters.push_back({w, open, level, light.coverage(wish.mark)});
    }
}

}  // namespace

std::string beside_window_in_words(const StandPlace& place) {
    return fmt::format(
        "{:.2f} m off the wall's outer face, {:.2f} m to the {} of the window's middle (seen from "
        "inside)",
        place.off_wall_m, std::abs(place.along_wall_m), place.along_wall_m > 0 ? "right" : "left");
}

std::string words(const Obstacle& obstacle, const room::Room& room, const site::Lamp& lamp) {
    switch (obstacle.what) {
        case Hindrance::behind_wall:
            return "that is not before the window's wall";
        case Hindrance::too_near_wall:
            return fmt::format("too near the wall: a lamp needs {:.1f} m",
                               std::max(least_off_wall_m, lamp.face_diameter_m / 2));
        case Hindrance::in_own_walls:
            return "the room's own walls stand there";
        case Hindrance::in_building:
            return room::words(obstacle.edge, room) + " stands there";
        case Hindrance::below_ground:
            return "that is in the ground";
        case Hindrance::above_stand:
            return fmt::format("the stand goes to {:.4g} m", lamp.stand_max_m.value_or(0));
        case Hindrance::not_covered:
            break;
    }
    return obstacle.edge.kind == room::Edge::none
               ? std::string{"its light does not reach all of the mark"}
               : room::words(obstacle.edge, room) + " keeps its light from the mark";
}

StandAnswer find_stand(const room::Scene& scene, const site::Lamp& lamp, const StandWish& wish) {
    return StandSearch{scene, lamp, wish}.find();
}

StandPlace judge_stand(const room::Scene& scene, const site::Lamp& lamp, const StandWish& wish,
                       Point3 at) {
    return StandSearch{scene, lamp, wish}.judge(at);
}

LampLight light_from(const room::Scene& scene, const site::Lamp& lamp, const StandWish& wish,
                     const StandPlace& place) {
    LampLight out;
    const LampOutput output{lamp};
    const room::Mark& mark = scene.room().marks[wish.mark];
    const Point3 centre = centre_of(mark);
    const Point3 aim = unit(centre - place.at);
    const LampPose pose{place.at, aim};
    const room::LampThrow light{scene, wish.window, place.at};
    const room::WallFrame& f = scene.frame(wish.window);

    // The lamp looks inward: its right is the room's left.
    const double inward = -dot(Point2{aim.x, aim.y}, f.n), across = -dot(Point2{aim.x, aim.y}, f.u);
    out.pan = Angle::radians(std::atan2(across, inward));
    out.tilt = Angle::radians(std::atan2(aim.z, std::hypot(aim.x, aim.y)));
    out.bearing = {wrapped_turn(room::plan_bearing(scene.room()).from_north +
                                Angle::radians(std::atan2(aim.x, aim.y)))};
    out.patches = light.patches(output.face_diameter_m());
    out.on_ceiling = light.on_ceiling(output.face_diameter_m());

    out.incidence = Angle::radians(std::atan2(std::hypot(across, aim.z), inward));
    out.transmittance =
        light::transmittance_at_cosine(panes_of(scene.room().windows[wish.window]), inward);
    out.bare_lx = output.level_lx(pose, centre);
    out.level_lx = out.bare_lx * out.transmittance * place.coverage;
    out.too_near = light::too_near(output.face_diameter_m(), place.distance_m);

    const double half = room::half_size(mark);
    out.fall_off_across_mark_stops =
        light::fall_off_stops(std::max(place.distance_m - half, 1e-3), place.distance_m + half);
    out.spread_across_mark = Angle::radians(2 * std::asin(std::min(half / place.distance_m, 1.0)));
    const Point3 to_lamp = -1.0 * aim;
    const double behind = throw_behind(scene, centre, to_lamp);
    out.fall_off_to_wall_stops = light::fall_off_stops(place.distance_m, place.distance_m + behind);
    add_flux(scene, output, pose, light, wish, out);
    add_other_windows(scene, output, pose, wish, out);
    return out;
}

StandDoubt stand_doubt(const room::Scene& scene, const site::Lamp& lamp, const StandWish& wish,
                       const StandPlace& place, double within_m) {
    const LampOutput output{lamp};
    const Point3 mark = centre_of(scene.room().marks[wish.mark]);
    const room::WallFrame& f = scene.frame(wish.window);
    const auto panes = panes_of(scene.room().windows[wish.window]);
    struct AtMark {
        double coverage, lx;
    };
    const auto from = [&](Point3 off) {
        const Point3 at = place.at + within_m * off;
        const Point3 aim = unit(mark - at);
        const double inward = -dot(Point2{aim.x, aim.y}, f.n);
        const double coverage = room::LampThrow{scene, wish.window, at}.coverage(wish.mark);
        return AtMark{coverage, output.level_lx({at, aim}, mark) * coverage *
                                    light::transmittance_at_cosine(panes, inward)};
    };
    const AtMark there = from({});
    StandDoubt out{within_m, there.coverage, there.coverage, there.lx, there.lx};
    const auto look = [&](Point3 off) {
        const AtMark seen = from(off);
        out.least_coverage = std::min(out.least_coverage, seen.coverage);
        out.most_coverage = std::max(out.most_coverage, seen.coverage);
        out.least_lx = std::min(out.least_lx, seen.lx);
        out.most_lx = std::max(out.most_lx, seen.lx);
    };
    for (const double side : {-1.0, 1.0}) {
        for (const Point3& axis : {Point3{side, 0, 0}, Point3{0, side, 0}, Point3{0, 0, side}})
            look(axis);
        for (const double y : {-1.0, 1.0})
            for (const double z : {-1.0, 1.0})
                look({side, y, z});
    }
    return out;
}

SunDifference difference(const room::Scene& scene, const site::Lamp& lamp, const StandWish& wish,
                         const StandPlace& place, Point3 sun, Angle sun_diameter, double share) {
    SunDifference out;
    const Point3 mark = centre_of(scene.room().marks[wish.mark]);
    out.surface = scene.surface_behind(wish.mark, sun);
    Point3 by_lamp, by_sun;
    for (const room::Patch& p :
         room::LampThrow{scene, wish.window, place.at}.patches(LampOutput{lamp}.face_diameter_m()))
        if (p.surface == out.surface) {
            out.lamp_m2 = p.area_m2;
            out.lamp_edge_m = p.edge_width_m;
            by_lamp = p.centroid;
        }
    for (const room::Patch& p : scene.patches(wish.window, sun, sun_diameter))
        if (p.surface == out.surface) {
            out.sun_m2 = p.area_m2;
            out.sun_edge_m = p.edge_width_m;
            by_sun = p.centroid;
        }
    if (out.lamp_m2 > 0 && out.sun_m2 > 0) out.centroid_apart_m = norm(by_lamp - by_sun);

    // Along the ray from the lamp through the mark: to the opening's inner plane, then on to the
    // surface behind.
    const room::WallFrame& f = scene.frame(wish.window);
    const Point3 to_lamp = unit(place.at - mark);
    const double outward = dot(Point2{to_lamp.x, to_lamp.y}, f.n);
    const double mark_to_window =
        -dot(Point2{mark.x, mark.y} - f.left_corner, f.n) / std::max(outward, 1e-6);
    const double behind = throw_behind(scene, mark, to_lamp);
    const double throw_m = mark_to_window + behind;
    out.growth = light::patch_growth(place.distance_m - mark_to_window, throw_m);
    out.alike_from_m = light::stand_off_m(throw_m, share) + mark_to_window;
    out.alike = judge_stand(scene, lamp, wish, mark + out.alike_from_m * to_lamp);
    return out;
}

FillAnswer find_fill(const room::Room& room, const site::Lamp& lamp, const FillWish& wish) {
    FillAnswer out;
    const LampOutput output{lamp};
    const Point3 mark = centre_of(room.marks[wish.mark]);
    out.wanted_fill_lx = light::fill_for_lx(wish.key_lx, wish.ratio, wish.convention);
    out.lamp_lx = out.wanted_fill_lx - wish.room_fill_lx;
    if (out.lamp_lx > 0 && output.can_be_aimed())
        out.distance_m = output.distance_for_m(out.lamp_lx);
    for (const Point2 corner : room.floor)
        out.farthest_m = std::max(out.farthest_m, length(corner - Point2{mark.x, mark.y}));
    if (!lamp.at || !lamp.height_m) return out;
    const Point3 at{lamp.at->x, lamp.at->y, *lamp.height_m};
    const LampPose pose = output.can_be_aimed() ? LampPose{at, unit(mark - at)} : hung(at);
    out.placed_m = norm(mark - at);
    out.blocked = what_stands_between(room, at, mark);
    out.placed_lx = out.blocked ? 0 : output.level_lx(pose, mark);
    if (out.lamp_lx > 0 && *out.placed_lx > 0)
        out.placed_dim_stops = std::log2(*out.placed_lx / out.lamp_lx);
    return out;
}

}  // namespace keyhour::study
