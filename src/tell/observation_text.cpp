#include "tell/observation_text.hpp"

#include <fmt/format.h>

#include <cmath>

#include "keyhour/site/dates.hpp"
#include "keyhour/site/position.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"

namespace keyhour::tell {
namespace {

using namespace study;

/// How far a place is off, with a digit more than a tape's half inch.
std::string within_text(double m, site::Units units) {
    constexpr double inch_m = 0.0254, small_m = 0.1;
    if (units == site::Units::feet)
        return m < small_m ? fmt::format("{:.2g} in", m / inch_m) : words::length(m, units);
    return m < small_m ? fmt::format("{:.3g} mm", 1000 * m) : fmt::format("{:.4g} m", m);
}

std::string height_text(double m, site::Units units) {
    return units == site::Units::feet ? words::length(m, units) : fmt::format("{:.3g} m", m);
}

std::string plan_point(room::Point2 p, site::Units units) {
    if (units == site::Units::feet)
        return fmt::format("[{}, {}]", words::length(p.x, units), words::length(p.y, units));
    return fmt::format("[{:.3g},{:.3g}]", p.x, p.y);
}

/// With a digit more than a wall's ends need: 0.000001 degree is 0.1 m.
std::string place(const site::Coordinates& c) {
    const double latitude = c.latitude.in_degrees(), longitude = c.longitude.in_degrees();
    return fmt::format("{:.6f} {} {:.6f} {}", std::abs(latitude), latitude < 0 ? "SOUTH" : "NORTH",
                       std::abs(longitude), longitude < 0 ? "WEST" : "EAST");
}

/// Of a bearing that was read: "193 magnetic (1.1 degrees WEST), give or take 5".
std::string bearing_text(Angle faces, const std::optional<Needle>& needle, Angle within) {
    std::string text = fmt::format("{:.4g} ", faces.in_degrees());
    if (!needle) return text + fmt::format("true, give or take {:.3g}", within.in_degrees());
    const double declination = needle->declination.in_degrees();
    return text + fmt::format("magnetic (declination {:.1f} degrees {}), give or take {:.3g}",
                              std::abs(declination), declination < 0 ? "WEST" : "EAST",
                              within.in_degrees());
}

/// What an observation says, without its time.
struct Telling {
    const room::Room& room;
    site::Units units;

    std::string operator()(const WallBearing& b) const {
        return fmt::format("{} faces {}", wall_name(room.walls[b.wall]),
                           bearing_text(b.faces, b.needle, b.within));
    }
    std::string operator()(const MapLine& m) const {
        return fmt::format("{} from {} to {}, {}; each within {}", wall_name(room.walls[m.wall]),
                           place(m.left), place(m.right),
                           m.sides_known ? "left to right seen from inside"
                                         : "which is left and which right is not known",
                           within_text(m.within_m, units));
    }
    std::string operator()(const Graze& g) const {
        const char* what = g.sun == Graze::Sun::begins ? "sun begins to graze"
                           : g.sun == Graze::Sun::ends ? "sun ceases to graze"
                                                       : "sun grazes, beginning or ending,";
        return fmt::format("{} {}, within {:.2g} min", what, wall_name(room.walls[g.wall]),
                           g.time.within_s / 60);
    }
    std::string operator()(const ShadowLine& s) const {
        return fmt::format("shadow from {} to {}{}; each within {}", plan_point(s.from, units),
                           plan_point(s.to, units),
                           s.from_edge ? ", away from its edge" : ", sense not known",
                           within_text(s.within_m, units));
    }
    std::string operator()(const ShadowAngle& s) const {
        return fmt::format(
            "shadow into the room, {:.4g} degrees from the {} part of {}, within "
            "{:.2g} degrees",
            s.angle.in_degrees(), s.from_right ? "right-hand" : "left-hand",
            wall_name(room.walls[s.wall]), s.within.in_degrees());
    }
    std::string operator()(const PatchCorner& c) const {
        const std::string where =
            c.on_wall
                ? fmt::format("{} at {}, {} above the floor", wall_name(room.walls[*c.on_wall]),
                              plan_point({c.at.x, c.at.y}, units), height_text(c.at.z, units))
                : "the floor at " + plan_point({c.at.x, c.at.y}, units);
        return fmt::format("patch corner of {} and {} jamb of {} on {}, within {}",
                           c.by_head ? "head" : "sill", c.by_left ? "left" : "right",
                           room.windows[c.window].name, where, within_text(c.within_m, units));
    }
    std::string operator()(const OtherWall& o) const {
        return fmt::format("{} faces {}; {} stands {:.4g} degrees {} from it, within {:.2g}",
                           o.other, bearing_text(o.faces, o.needle, o.within),
                           wall_name(room.walls[o.wall]), std::abs(o.turn.in_degrees()),
                           !o.turn_known      ? "to one side"
                           : o.turn < Angle{} ? "anticlockwise"
                                              : "clockwise",
                           o.turn_within.in_degrees());
    }
};

double degrees_text(Azimuth a) {
    return wrapped_turn(a.from_north).in_degrees();
}

}  // namespace

std::string wall_name(const std::string& name) {
    return name + (name.ends_with("wall") ? "" : " wall");
}

std::string in_words(const Observation& observation, const site::Location& location,
                     const SunPath& path, site::Units units) {
    std::string text = observation.name + ": ";
    const auto time = time_of(observation);
    if (time)
        text += fmt::format(
            "{} {} ({}), ", words::short_date(site::local_date(time->at, location.site.zone)),
            site::iso_local(time->at, location.site.zone).substr(11, time->within_s < 30 ? 8 : 5),
            words::offset_at(time->at, location.site.zone));
    text += std::visit(Telling{*location.room, units}, observation.what);
    if (time) {
        const Moment m = path.at(time->at);
        const Azimuth azimuth{
            wrapped_turn(Angle::radians(std::atan2(m.toward.east, m.toward.north)))};
        text += fmt::format("; the sun stood {:.1f} true, {:.1f} degrees high",
                            degrees_text(azimuth), m.altitude_deg);
    }
    return text;
}

}  // namespace keyhour::tell
