#include "bearing_page.hpp"

#include <fmt/format.h>
#include <fmt/ostream.h>

#include <algorithm>
#include <cmath>
#include <ostream>

#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/position.hpp"
#include "tell/cautions.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

using namespace study;

constexpr std::size_t most_proposals = 4;

std::string metres(double m) {
    return m < 0.1 ? fmt::format("{:.3g} mm", 1000 * m) : fmt::format("{:.4g} m", m);
}

std::string point(room::Point2 p) {
    return fmt::format("[{:.3g},{:.3g}]", p.x, p.y);
}

/// With a digit more than a wall's ends need: 0.000001 degree is 0.1 m.
std::string place(const site::Coordinates& c) {
    const double latitude = c.latitude.in_degrees(), longitude = c.longitude.in_degrees();
    return fmt::format("{:.6f} {} {:.6f} {}", std::abs(latitude), latitude < 0 ? "SOUTH" : "NORTH",
                       std::abs(longitude), longitude < 0 ? "WEST" : "EAST");
}

std::string wall_name(const std::string& name) {
    return name + (name.ends_with("wall") ? "" : " wall");
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

    std::string operator()(const WallBearing& b) const {
        return fmt::format("{} faces {}", wall_name(room.walls[b.wall]),
                           bearing_text(b.faces, b.needle, b.within));
    }
    std::string operator()(const MapLine& m) const {
        return fmt::format("{} from {} to {}, {}; each within {}", wall_name(room.walls[m.wall]),
                           place(m.left), place(m.right),
                           m.sides_known ? "left to right seen from inside"
                                         : "which is left and which right is not known",
                           metres(m.within_m));
    }
    std::string operator()(const Graze& g) const {
        const char* what = g.sun == Graze::Sun::begins ? "sun begins to graze"
                           : g.sun == Graze::Sun::ends ? "sun ceases to graze"
                                                       : "sun grazes, beginning or ending,";
        return fmt::format("{} {}, within {:.2g} min", what, wall_name(room.walls[g.wall]),
                           g.time.within_s / 60);
    }
    std::string operator()(const ShadowLine& s) const {
        return fmt::format("shadow from {} to {}{}; each within {}", point(s.from), point(s.to),
                           s.from_edge ? ", away from its edge" : ", sense not known",
                           metres(s.within_m));
    }
    std::string operator()(const ShadowAngle& s) const {
        return fmt::format(
            "shadow into the room, {:.4g} degrees from the {} part of {}, within "
            "{:.2g} degrees",
            s.angle.in_degrees(), s.from_right ? "right-hand" : "left-hand",
            wall_name(room.walls[s.wall]), s.within.in_degrees());
    }
    std::string operator()(const PatchCorner& c) const {
        const std::string where = c.on_wall ? fmt::format("{} at {}, {:.3g} m above the floor",
                                                          wall_name(room.walls[*c.on_wall]),
                                                          point({c.at.x, c.at.y}), c.at.z)
                                            : "the floor at " + point({c.at.x, c.at.y});
        return fmt::format("patch corner of {} and {} jamb of {} on {}, within {}",
                           c.by_head ? "head" : "sill", c.by_left ? "left" : "right",
                           room.windows[c.window].name, where, metres(c.within_m));
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

double degrees(Azimuth a) {
    return wrapped_turn(a.from_north).in_degrees();
}

void print_altitude(const Observation& o, const AltitudeCheck& check, std::ostream& out) {
    const auto& corner = std::get<PatchCorner>(o.what);
    const char* edge = corner.by_head ? "head" : "sill";
    std::string text = fmt::format(
        "its height: the sun {:.1f} degrees high, computed {:.1f}, "
        "give or take {:.1f}",
        check.measured_deg, check.sun_deg, check.sigma_deg);
    const std::string would_be =
        fmt::format("{} at {:.2f} m, not {:.2f}", edge, check.edge_would_be_m, check.edge_m);
    const std::string clock =
        check.clock_off_s ? fmt::format("the time {:.0f} min {}", std::abs(*check.clock_off_s) / 60,
                                        *check.clock_off_s < 0 ? "earlier" : "later")
                          : std::string{"no shift of the clock within two hours"};
    switch (check.culprit) {
        case Culprit::none:
            text += ": it fits";
            break;
        case Culprit::clock:
            text += fmt::format(": THE CLOCK must be wrong: {} mends height and bearing", clock);
            break;
        case Culprit::heights:
            text +=
                fmt::format(": THE WINDOW'S HEIGHTS must be wrong: {}; the bearing fits", would_be);
            break;
        case Culprit::clock_or_heights:
            text += fmt::format(": THE CLOCK OR THE WINDOW'S HEIGHTS must be wrong: {}, or {}",
                                clock, would_be);
            break;
        case Culprit::bearing_or_left:
            text += ": it fits, so THE BEARING, or the window's left or width, must be wrong";
            break;
        case Culprit::more_than_one:
            text += fmt::format(
                ": it does not fit, and neither clock nor heights alone mend it "
                "({}; {}): measure the corner again",
                clock, would_be);
            break;
    }
    print_wrapped(out, text, 6, 6);
}

void print_observation(const Observation& o, const ObservationResult& r, const room::Room& room,
                       std::ostream& out) {
    fmt::print(out, "  {:<28} {:>7.1f}  {:>5.1f}  {:>+7.1f}  {:>+6.1f}{}\n", o.name.substr(0, 28),
               degrees(r.faces), r.residual.sigma_deg, r.residual.residual_deg,
               r.residual.normalised, r.residual.used ? "" : "  LEFT OUT");
    if (r.or_faces)
        fmt::print(out, "      or {:.1f}: it does not say which way is out\n",
                   degrees(*r.or_faces));
    if (r.sun_behind_deg)
        print_wrapped(out,
                      fmt::format("the sun was {:.0f} degrees BEHIND {} then, at this bearing: is "
                                  "the time right?",
                                  *r.sun_behind_deg, wall_name(room.walls[*wall_of(o, room)])),
                      6, 6);
    else if (r.sun_behind_in_file_deg)
        print_wrapped(
            out,
            fmt::format("at the file's bearing the sun was {:.0f} degrees BEHIND {} then: "
                        "the time, the wall or the file is wrong",
                        *r.sun_behind_in_file_deg, wall_name(room.walls[*wall_of(o, room)])),
            6, 6);
    if (r.behind_skyline)
        print_wrapped(out, "the file's horizon hid the sun then: is the time right?", 6, 6);
    if (r.altitude) print_altitude(o, *r.altitude, out);
}

std::string named(const std::vector<std::size_t>& which, const BearingQuestion& question) {
    std::string text;
    for (std::size_t i = 0; i < which.size(); ++i)
        text += (i == 0                  ? ""
                 : i + 1 == which.size() ? " or "
                                         : ", ") +
                question.observations[which[i]].name;
    return text;
}

/// How well they agree, honestly.
void print_agreement(const tell::BearingReport& report, std::ostream& out) {
    const CircleFit& fit = report.answer.fit;
    for (const std::size_t i : fit.left_out)
        print_wrapped(out,
                      fmt::format("{} DOES NOT FIT the others: {:.1f} of its standard deviations "
                                  "off; it was left out",
                                  report.question.observations[i].name,
                                  std::abs(fit.residuals[i].normalised)),
                      0, 4);
    if (!fit.suspects.empty())
        print_wrapped(out,
                      fmt::format("{} DOES NOT FIT; which one can't be told from these: all were "
                                  "used",
                                  named(fit.suspects, report.question)),
                      0, 4);
    if (fit.freedom == 0) {
        print_wrapped(out,
                      fit.left_out.empty() ? "one observation: nothing checks it"
                                           : "one observation is left: nothing checks it",
                      0, 4);
        return;
    }
    std::string text = fmt::format(
        "chi-square {:.1f} with {} degree{} of freedom: sound observations differ as much or more "
        "in {:.2g} % of cases",
        fit.chi_square, fit.freedom, fit.freedom == 1 ? "" : "s", 100 * fit.chance);
    if (fit.widened > 1)
        text += fmt::format(
            "; they differ more than their doubts allow, so the doubt was widened "
            "by {:.1f}",
            fit.widened);
    print_wrapped(out, text, 0, 4);
}

void print_answer(const tell::BearingReport& report, const room::Room& room, std::ostream& out) {
    const BearingAnswer& a = report.answer;
    print_wrapped(out,
                  fmt::format("{} faces {} ({:.1f} true): looking out you look {}",
                              wall_name(room.walls[a.wall]), site::compass_words(a.faces),
                              degrees(a.faces), site::compass_letters(a.faces)),
                  0, 4);
    fmt::print(out, "  standard uncertainty {:.2f} degrees; 95 % within {:.1f}\n",
               a.sigma.in_degrees(), a.within_95.in_degrees());
    if (a.other)
        print_wrapped(out,
                      fmt::format("OR {:.1f}: nothing observed says which way is out; the file's "
                                  "own bearing decided. Look: {} or {}?",
                                  degrees(*a.other), site::compass_words(a.faces),
                                  site::compass_words(*a.other)),
                      2, 4);
    const Azimuth in_file = room::wall_faces(room, a.wall);
    const double off = wrapped_half_turn(a.faces.from_north - in_file.from_north).in_degrees();
    std::string text = fmt::format("the file says {:.1f}, give or take {:.3g}: {:+.1f} from it",
                                   degrees(in_file), room.bearing.within.in_degrees(), off);
    if (std::abs(off) > 90)
        text += ". THE FILE'S BEARING POINTS INTO THE ROOM, or these observations do";
    else if (std::abs(off) > room.bearing.within.in_degrees() + a.within_95.in_degrees())
        text += ", MORE THAN ITS DOUBT";
    print_wrapped(out, text, 2, 4);
    out << '\n';
}

void print_next(const tell::BearingReport& report, const site::Location& location,
                const std::string& day, std::ostream& out) {
    print_wrapped(out, "what would help most, " + day, 0, 4);
    if (report.next.empty()) {
        out << "  no sun that could be used\n\n";
        return;
    }
    using Kind = NextObservation::Kind;
    for (std::size_t i = 0; i < std::min(report.next.size(), most_proposals); ++i) {
        const NextObservation& n = report.next[i];
        std::string what;
        if (n.kind == Kind::jamb_shadow)
            what = fmt::format("shadow of a jamb of {} on the floor, {:.1f} m of it",
                               location.room->windows[n.index].name, n.shadow_m);
        else if (n.kind == Kind::plumb_line)
            what = fmt::format("shadow of a plumb line on level ground by {}, {:.1f} m of it",
                               wall_name(location.room->walls[n.index]), n.shadow_m);
        else
            what = fmt::format("the sun {} to graze {}, if nothing stands in its way",
                               n.kind == Kind::graze_begins ? "begins" : "ceases",
                               wall_name(location.room->walls[n.index]));
        print_wrapped(out,
                      fmt::format("{} {}: alone {:.1f}, with the others {:.2f} degrees",
                                  site::whole_minutes(n.at, location.site.zone), what, n.sigma_deg,
                                  n.sigma_after_deg),
                      2, 8);
    }
    out << '\n';
}

}  // namespace

std::string in_words(const Observation& observation, const site::Location& location,
                     const SunPath& path) {
    std::string text = observation.name + ": ";
    const auto time = time_of(observation);
    if (time)
        text += fmt::format(
            "{} {} ({}), ", short_date(site::local_date(time->at, location.site.zone)),
            site::iso_local(time->at, location.site.zone).substr(11, time->within_s < 30 ? 8 : 5),
            offset_at(time->at, location.site.zone));
    text += std::visit(Telling{*location.room}, observation.what);
    if (time) {
        const Moment m = path.at(time->at);
        const Azimuth azimuth{
            wrapped_turn(Angle::radians(std::atan2(m.toward.east, m.toward.north)))};
        text += fmt::format("; the sun stood {:.1f} true, {:.1f} degrees high", degrees(azimuth),
                            m.altitude_deg);
    }
    return text;
}

void print_bearing(const tell::BearingReport& report, const site::Location& location,
                   const std::string& day, std::ostream& out) {
    const room::Room& room = *location.room;
    print_answer(report, room, out);
    out << "  each alone                     faces  sigma      off   w\n";
    for (std::size_t i = 0; i < report.answer.results.size(); ++i)
        print_observation(report.question.observations[i], report.answer.results[i], room, out);
    print_agreement(report, out);
    out << '\n';
    print_next(report, location, day, out);
    out << (report.is_written ? "written into the file, in [room]\n" : "for the file, in [room]\n");
    out << report.line << "\n\n";
    print_wrapped(out,
                  "sigma: standard uncertainty, degrees; a doubt of \"within\" is taken as even "
                  "over its range. off: from the answer; w: the same over its own standard "
                  "deviation. within_deg in the line holds the bearing in 95 of 100 cases. Walls "
                  "stand to each other as the file's floor has them. Steel beside a compass is in "
                  "no model.",
                  0, 0);
    print_wrapped(out,
                  fmt::format("{} On a street or a ladder local rules and licensed practice "
                              "decide.",
                              tell::sun_caution),
                  0, 0);
}

}  // namespace keyhour::cli
