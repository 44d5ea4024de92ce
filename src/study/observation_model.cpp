#include "observation_model.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "keyhour/site/geodesic.hpp"
#include "radians.hpp"

namespace keyhour::study {
namespace {

constexpr double metres_a_degree = 111'320;  // of a great circle; moves points by their doubt only

/// Standard uncertainty of what lies within +-a, all equally likely.
double sigma_of(double within) {
    return within / std::numbers::sqrt3;
}

/// A direction of the plan, clockwise from +y, degrees.
double from_y_deg(room::Point2 direction) {
    return std::atan2(direction.x, direction.y) / degree;
}

/// The other way round; not wrapped.
double opposite_deg(double direction_deg) {
    return direction_deg + 180;
}

site::Coordinates moved(site::Coordinates p, double east_m, double north_m) {
    p.latitude = p.latitude + Angle::degrees(north_m / metres_a_degree);
    p.longitude =
        p.longitude + Angle::degrees(east_m / (metres_a_degree * std::max(1e-6, cos(p.latitude))));
    return p;
}

double distance(const ShadowLine& s) {
    return room::length(s.to - s.from);
}

}  // namespace

double ObservationModel::wall_from_y_deg(std::size_t wall) const {
    return from_y_deg(room::wall_frame(room_.floor, wall).n);
}

double ObservationModel::azimuth_deg(Instant t) const {
    const LevelVector v = path_.at(t).toward;
    return std::atan2(v.east, v.north) / degree;
}

double ObservationModel::azimuth_rate_deg(Instant t) const {
    const Seconds minute{60};
    return half_turn_deg(azimuth_deg(t + minute) - azimuth_deg(t - minute)) / 2;
}

struct ObservationModel::Maker {
    const ObservationModel& model;
    Inputs& in;

    [[nodiscard]] Instant moment(const ClockTime& time) const {
        const double clock = in.shared(clock_input, sigma_of(model.clock_within_s_));
        return time.at + Seconds{clock + in.own("reading of the time", sigma_of(time.within_s))};
    }

    /// The sun's azimuth as the middle of a soft edge shows it.
    [[nodiscard]] double shadow_azimuth(const ClockTime& time) const {
        return model.azimuth_deg(moment(time)) + in.own("edge", sigma_of(edge_within.in_degrees()));
    }

    /// Clockwise from true north, of a bearing that may be magnetic.
    [[nodiscard]] double true_deg(Angle as_read, const std::optional<Needle>& needle,
                                  Angle within) const {
        double bearing = as_read.in_degrees() + in.own("bearing", sigma_of(within.in_degrees()));
        if (needle)
            bearing += needle->declination.in_degrees() +
                       in.shared("declination", needle->uncertainty.in_degrees());
        return bearing;
    }

    [[nodiscard]] Seen facing(std::size_t wall, const std::vector<double>& faces_deg) const {
        Seen seen;
        for (const double faces : faces_deg)
            seen.plan_bearing_deg.push_back(turn_deg(faces - model.wall_from_y_deg(wall)));
        return seen;
    }

    Seen operator()(const WallBearing& b) const {
        return facing(b.wall, {true_deg(b.faces, b.needle, b.within)});
    }

    Seen operator()(const MapLine& m) const {
        const double sigma = sigma_of(m.within_m);
        const auto left = moved(m.left, in.own("left, east", sigma), in.own("left, north", sigma));
        const auto right =
            moved(m.right, in.own("right, east", sigma), in.own("right, north", sigma));
        // Who looks out of the wall has its right-hand end a quarter turn clockwise.
        const double faces = site::line_between(left, right).bearing_at_middle().in_degrees() - 90;
        if (m.sides_known) return facing(m.wall, {faces});
        return facing(m.wall, {faces, opposite_deg(faces)});
    }

    Seen operator()(const Graze& g) const {
        const double azimuth = shadow_azimuth(g.time);
        // Does the sun come round clockwise (as it does north of the tropics)?
        const double begins = azimuth + (model.azimuth_rate_deg(g.time.at) > 0 ? 90 : -90);
        if (g.sun == Graze::Sun::begins) return facing(g.wall, {begins});
        if (g.sun == Graze::Sun::ends) return facing(g.wall, {opposite_deg(begins)});
        return facing(g.wall, {begins, opposite_deg(begins)});
    }

    Seen operator()(const ShadowLine& s) const {
        const double sigma = sigma_of(s.within_m);
        const room::Point2 from{s.from.x + in.own("from, x", sigma),
                                s.from.y + in.own("from, y", sigma)};
        const room::Point2 to{s.to.x + in.own("to, x", sigma), s.to.y + in.own("to, y", sigma)};
        const double bearing = opposite_deg(shadow_azimuth(s.time)) - from_y_deg(to - from);
        if (s.from_edge) return {{turn_deg(bearing)}, std::nullopt};
        return {{turn_deg(bearing), turn_deg(opposite_deg(bearing))}, std::nullopt};
    }

    Seen operator()(const ShadowAngle& s) const {
        const room::WallFrame wall = room::wall_frame(model.room_.floor, s.wall);
        const double angle =
            s.angle.in_degrees() + in.own("angle", sigma_of(s.within.in_degrees()));
        const double along = std::cos(angle * degree), inward = std::sin(angle * degree);
        const room::Point2 shadow = ((s.from_right ? 1 : -1) * along) * wall.u - inward * wall.n;
        return {{turn_deg(opposite_deg(shadow_azimuth(s.time)) - from_y_deg(shadow))},
                std::nullopt};
    }

    Seen operator()(const PatchCorner& c) const {
        const room::Window& window = model.room_.windows[c.window];
        const room::WallFrame wall = room::wall_frame(model.room_.floor, window.wall);
        const auto of_window = [&](const char* what, std::optional<double> within, double usual,
                                   double value) {
            return in.shared(window.name + ' ' + what, sigma_of(within.value_or(usual)), value);
        };
        const double left =
            of_window("left", window.within.left_m, usual_left_within_m, window.left_m);
        const double jamb = c.by_left ? left
                                      : left + of_window("width", window.within.width_m,
                                                         usual_opening_within_m, window.width_m);
        const double reveal =
            of_window("reveal", window.within.reveal_m, usual_opening_within_m, window.reveal_m);
        const room::Point3 at = corner_point(c);
        // In the wall's own coordinates: u to the right seen from inside, w outward.
        const room::Point2 from_corner = room::Point2{at.x, at.y} - wall.left_corner;
        const double u = dot(from_corner, wall.u), w = dot(from_corner, wall.n);
        // A jamb casts by its inner edge if the sun stands on the other jamb's side.
        const bool sun_to_right = jamb > u;
        const double jamb_w = c.by_left == sun_to_right ? 0 : reveal;
        const room::Point2 toward = (jamb - u) * wall.u + (jamb_w - w) * wall.n;
        Seen seen;
        seen.plan_bearing_deg = {turn_deg(shadow_azimuth(c.time) - from_y_deg(toward))};
        // The head casts by its outer edge, the sill by its inner one.
        double edge_m =
            of_window("sill", window.within.sill_m, usual_opening_within_m, window.sill_m);
        if (c.by_head)
            edge_m += of_window("height", window.within.height_m, usual_opening_within_m,
                                window.height_m);
        const double run_m = ((c.by_head ? reveal : 0) - w) * length(toward) / (jamb_w - w);
        const double measured_deg = std::atan2(edge_m - at.z, run_m) / degree +
                                    in.own("edge, upright", sigma_of(edge_within.in_degrees()));
        seen.altitude =
            SeenAltitude{measured_deg, model.path_.at(moment(c.time)).altitude_deg, run_m, edge_m};
        return seen;
    }

    Seen operator()(const OtherWall& o) const {
        const double other = true_deg(o.faces, o.needle, o.within);
        const double turn =
            o.turn.in_degrees() + in.own("turn", sigma_of(o.turn_within.in_degrees()));
        if (o.turn_known) return facing(o.wall, {other + turn});
        return facing(o.wall, {other + turn, other - turn});
    }

private:
    /// The measured point, moved along the surface on which it lies.
    [[nodiscard]] room::Point3 corner_point(const PatchCorner& c) const {
        const double sigma = sigma_of(c.within_m);
        const double first = in.own("corner, along", sigma),
                     second = in.own("corner, across", sigma);
        if (!c.on_wall) return {c.at.x + first, c.at.y + second, c.at.z};
        const room::Point2 u = room::wall_frame(model.room_.floor, *c.on_wall).u;
        return {c.at.x + first * u.x, c.at.y + first * u.y, c.at.z + second};
    }
};

Seen ObservationModel::see(const Observation& observation, Inputs& inputs) const {
    return std::visit(Maker{*this, inputs}, observation.what);
}

Sighting ObservationModel::sighting(const Observation& observation,
                                    const std::string& owner) const {
    Inputs inputs{owner};
    Sighting sighting{see(observation, inputs).plan_bearing_deg, {}};
    const auto first_reading = [&](const std::string& name, double by) {
        Inputs other{owner};
        other.move(name, by);
        return see(observation, other).plan_bearing_deg.front();
    };
    for (const auto& [name, sigma] : inputs.sigmas()) {
        const double degrees =
            half_turn_deg(first_reading(name, sigma) - first_reading(name, -sigma)) / 2;
        if (degrees != 0) sighting.contributions[name] = degrees;
    }
    return sighting;
}

std::optional<Sighting> ObservationModel::height(const Observation& observation,
                                                 const std::string& owner) const {
    const auto gap = [&](Inputs& inputs) -> std::optional<double> {
        const auto seen = see(observation, inputs).altitude;
        if (!seen) return std::nullopt;
        return seen->measured_deg - seen->sun_deg;
    };
    Inputs inputs{owner};
    const auto stated = gap(inputs);
    if (!stated) return std::nullopt;
    Sighting sighting{{*stated}, {}};
    for (const auto& [name, sigma] : inputs.sigmas()) {
        const auto at = [&](double by) {
            Inputs other{owner};
            other.move(name, by);
            return *gap(other);
        };
        const double degrees = (at(sigma) - at(-sigma)) / 2;
        if (degrees != 0) sighting.contributions[name] = degrees;
    }
    return sighting;
}

namespace {

std::string metres(double m) {
    return m < 0.1 ? fmt::format("{:.3g} mm", 1000 * m) : fmt::format("{:.4g} m", m);
}

/// Two points that each lie within +-a are no direction if they are closer than 2 a.
std::optional<std::string> too_close(double apart_m, double within_m) {
    if (apart_m > 2 * within_m) return std::nullopt;
    return fmt::format(
        "the two points are {} apart and each is known within {}: they give no direction; take "
        "points farther apart, or measure them better",
        metres(apart_m), metres(within_m));
}

std::optional<std::string> fault_of_line(const MapLine& map, const Observer& site) {
    constexpr double longest_m = 5000, farthest_m = 50'000;
    const double length = site::line_between(map.left, map.right).length_m;
    if (length > longest_m)
        return fmt::format(
            "the two points are {:.0f} km apart: no wall is that long; check the coordinates",
            length / 1000);
    const double away = site::line_between({site.latitude, site.longitude}, map.left).length_m;
    if (away > farthest_m)
        return fmt::format(
            "the points lie {:.0f} km from the site; check the coordinates, and their order",
            away / 1000);
    return too_close(length, map.within_m);
}

std::optional<std::string> fault_of_place(const PatchCorner& c, const room::Room& room) {
    const room::WallFrame wall = room::wall_frame(room.floor, room.windows[c.window].wall);
    const double inside = -dot(room::Point2{c.at.x, c.at.y} - wall.left_corner, wall.n);
    if (inside < 0.05)
        return fmt::format(
            "the corner of the patch lies {} {} of window \"{}\": the sun puts its patch inside, "
            "away from that wall",
            metres(std::abs(inside)), inside < 0 ? "outside the wall" : "from the wall",
            room.windows[c.window].name);
    if (!c.on_wall && !room::contains(room.floor, {c.at.x, c.at.y}))
        return fmt::format("[{:.4g}, {:.4g}] lies outside the floor", c.at.x, c.at.y);
    if (c.at.z > room.height_m)
        return fmt::format("{:.4g} m above the floor is above the ceiling ({:.4g} m)", c.at.z,
                           room.height_m);
    return std::nullopt;
}

}  // namespace

std::optional<std::string> ObservationModel::fault(const Observation& observation) const {
    if (const auto time = time_of(observation)) {
        const double altitude = path_.at(time->at).altitude_deg;
        if (altitude <= 0) {
            std::string text = fmt::format("the sun was {:.0f} degree{} below the horizon then",
                                           -altitude, std::lround(-altitude) == 1 ? "" : "s");
            constexpr Seconds half_day{43200};
            for (const Seconds by : {half_day, -half_day})
                if (path_.at(time->at + by).altitude_deg > 0) {
                    text += "; a 12-hour clock? The sun was up twelve hours ";
                    return text + (by.count() > 0 ? "later" : "earlier");
                }
            return text;
        }
    }
    if (const auto* map = std::get_if<MapLine>(&observation.what))
        return fault_of_line(*map, path_.place().observer());
    if (const auto* shadow = std::get_if<ShadowLine>(&observation.what))
        return too_close(distance(*shadow), shadow->within_m);
    if (const auto* corner = std::get_if<PatchCorner>(&observation.what))
        return fault_of_place(*corner, room_);
    if (const auto* graze = std::get_if<Graze>(&observation.what))
        if (std::abs(azimuth_rate_deg(graze->time.at)) < 0.01)
            return "the sun's bearing hardly changed then: the minute of grazing tells nothing";
    return std::nullopt;
}

const char* kind_in_words(const Observation& observation) noexcept {
    struct Words {
        const char* operator()(const WallBearing&) const { return "compass"; }
        const char* operator()(const MapLine&) const { return "map"; }
        const char* operator()(const Graze&) const { return "graze"; }
        const char* operator()(const ShadowLine&) const { return "shadow"; }
        const char* operator()(const ShadowAngle&) const { return "shadow"; }
        const char* operator()(const PatchCorner&) const { return "corner"; }
        const char* operator()(const OtherWall&) const { return "other wall"; }
    };
    return std::visit(Words{}, observation.what);
}

std::optional<ClockTime> time_of(const Observation& observation) noexcept {
    return std::visit(
        [](const auto& what) -> std::optional<ClockTime> {
            if constexpr (requires { what.time; })
                return what.time;
            else
                return std::nullopt;
        },
        observation.what);
}

std::optional<std::size_t> wall_of(const Observation& observation,
                                   const room::Room& room) noexcept {
    return std::visit(
        [&](const auto& what) -> std::optional<std::size_t> {
            if constexpr (requires { what.wall; })
                return what.wall;
            else if constexpr (requires { what.window; })
                return room.windows[what.window].wall;
            else
                return std::nullopt;
        },
        observation.what);
}

}  // namespace keyhour::study
