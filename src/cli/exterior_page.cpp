#include "exterior_page.hpp"

#include <fmt/format.h>
#include <fmt/ostream.h>

#include <algorithm>
#include <cmath>

#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "light_text.hpp"
#include "tell/cautions.hpp"
#include "tell/exterior_documents.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

std::string bearing_in_words(Angle bearing) {
    const Azimuth a{wrapped_turn(bearing)};
    return fmt::format("{} ({:g} true)", site::compass_words(a), a.from_north.in_degrees());
}

std::string joined(const std::vector<std::string>& words) {
    return fmt::format("{}", fmt::join(words, "; "));
}

std::string wanted_words(site::Side side) {
    return side == site::Side::any ? "direct light" : fmt::format("{} light", tell::name(side));
}

std::string side_cell(const study::SpotInstant& now) {
    if (!now.lit) return "shade";
    const double a = now.key_angle.in_degrees();
    const char* hand = std::abs(a) < 10 || std::abs(a) > 170 ? "" : a > 0 ? " left" : " right";
    return std::string{tell::name(now.side)} + hand + (now.in_frame ? "*" : "");
}

/// Three digits at most: a shadow's length.
std::string metres(double m) {
    return m < 100 ? fmt::format("{:.1f}", m) : fmt::format("{:.0f}", m);
}

/// "0.3", "12", "110": kilolux.
std::string kilolux(double lx) {
    const double k = lx / 1000;
    return k < 9.95 ? fmt::format("{:.1f}", k) : fmt::format("{:.0f}", k);
}

std::string kilolux(const light::Band& band) {
    const std::string low = kilolux(band.low), high = kilolux(band.high);
    return low == high ? low : low + "-" + high;
}

light::Band through(const light::Band& band, double share) {
    return {share * band.low, share * band.likely, share * band.high};
}

std::string fall_cell(const std::optional<study::Fall>& fall) {
    if (!fall) return "--";
    const auto one = [](double stops) {
        const std::string text = fmt::format("{:.1f}", stops);
        return text == "-0.0" ? std::string{"0.0"} : text;
    };
    const std::string low = one(fall->low), high = one(fall->high);
    return low == high ? low : low + " to " + high;
}

std::string moon_words(const study::MoonSight& m) {
    return m.hidden ? std::string{"not in sight"}
                    : fmt::format("{:.0f} degrees high in the {}, {:.2g} lx",
                                  m.position.apparent_altitude.above_horizon.in_degrees(),
                                  site::compass_letters(m.position.azimuth), m.level_lx);
}

const study::Span* longest(const std::vector<study::Span>& spans) {
    const auto it = std::ranges::max_element(spans, {}, &study::Span::length);
    return it == spans.end() ? nullptr : &*it;
}

}  // namespace

void ExteriorPage::line(const std::string& text) const {
    print_wrapped(out_, text, 2, 6);
}

/// To the nearest minute: for what neither begins nor ends a promise.
std::string ExteriorPage::clock(Instant t) const {
    return site::whole_minutes(nearest_minute(t), zone_);
}

std::string ExteriorPage::promised(const study::Span& span) const {
    return span_inward(span, zone_);
}

void ExteriorPage::date(site::LocalDate date) const {
    const Instant from = zone_.start_of(date), to = zone_.start_of(site::next_day(date));
    fmt::print(out_, "{} ({})\n\n", site::date_in_words(date), offsets_over(from, to, zone_));
}

void ExteriorPage::spot(const study::SpotLight& light, const study::SpotDay& day,
                        const std::vector<study::SpotEnsemble::Ends>& ends,
                        const std::vector<study::SpotInstant>& rows) const {
    const site::Spot& spot = light.spot();
    print_wrapped(
        out_,
        fmt::format("{}: camera looks {}, wants {}", spot.name,
                    bearing_in_words(spot.camera_bearing),
                    spot.wants == site::Side::any ? "any light" : wanted_words(spot.wants)),
        0, 4);
    if (!day.exists) {
        line(zone_.name() + " leaves this date out");
        out_ << '\n';
        return;
    }
    answer(light, day);
    direct(day, ends);
    facade(light, day);
    evening(day);
    moon(day);
    this->rows(light, rows);
    out_ << '\n';
}

void ExteriorPage::answer(const study::SpotLight& light, const study::SpotDay& day) const {
    const std::string wanted = wanted_words(light.spot().wants);
    if (day.wanted.empty()) {
        line(fmt::format("no {} on this date", wanted));
    } else {
        std::vector<std::string> spans;
        for (const study::Span& span : day.wanted)
            spans.push_back(promised(span));
        line(fmt::format("{} {}", wanted, joined(spans)));
    }
    start(day.wanted.empty() ? "" : "for it", day.for_wanted);
}

void ExteriorPage::start(const char* before, const std::vector<study::SafeStart>& starts) const {
    for (const study::SafeStart& s : starts) {
        if (s.latest)
            line(
                fmt::format("start the set-up {} by {} at the latest: {} set-up, {} shot; slack {}",
                            before, minute_down(*s.latest, zone_), in_minutes(settings_.set_up),
                            in_minutes(settings_.shot), in_minutes(s.slack)));
        else if (starts.size() == 1)
            line(fmt::format("too short for a shot of {}", in_minutes(settings_.shot)));
    }
}

void ExteriorPage::line_of_ends(const study::SpotEnsemble::Ends& ends) const {
    std::string said;
    if (ends.begins) said = "begins " + span_outward(*ends.begins, zone_);
    if (ends.ends)
        said += (said.empty() ? "ends " : " and ends ") + span_outward(*ends.ends, zone_);
    if (!said.empty()) line("in 9 of 10 cases it " + said);
}

void ExteriorPage::direct(const study::SpotDay& day,
                          const std::vector<study::SpotEnsemble::Ends>& ends) const {
    if (day.no_direct == study::NoDirect::sun_stays_down) line("the sun stays below the horizon");
    if (day.no_direct == study::NoDirect::stays_in_shade)
        line("no direct light: in shade while the sun is up");
    for (std::size_t i = 0; i < day.direct.size(); ++i) {
        const study::DirectSpan& d = day.direct[i];
        const bool all_day = d.begins_by == "midnight" && d.ends_by == "midnight";
        line(all_day ? std::string{"direct light all day and night"}
                     : fmt::format("direct light {}, begins by {}, ends by {}", promised(d.span),
                                   d.begins_by, d.ends_by));
        if (i < ends.size()) line_of_ends(ends[i]);
    }
    std::vector<std::string> sides;
    for (const study::SideSpan& s : day.sides)
        if (s.span.length() >= Seconds{60})
            sides.push_back(fmt::format(
                "{} {}", tell::name(s.side),
                clock_span(minute_after(s.span.from), minute_before(s.span.to), zone_)));
    if (!sides.empty()) line("from the lens: " + joined(sides));
    std::vector<std::string> seen;
    for (const study::Span& span : day.in_frame)
        seen.push_back(span_outward(span, zone_));
    if (!seen.empty()) line("the sun is in the frame " + joined(seen));
    std::vector<std::string> upright;
    for (const study::Span& span : day.in_frame_upright)
        upright.push_back(span_outward(span, zone_));
    if (!upright.empty()) line("in the upright frame " + joined(upright));
}

void ExteriorPage::facade(const study::SpotLight& light, const study::SpotDay& day) const {
    if (!light.spot().facade_faces) return;
    std::vector<std::string> lit, raking;
    for (const study::Span& span : day.on_facade)
        lit.push_back(promised(span));
    for (const study::Span& span : day.raking)
        raking.push_back(promised(span));
    line(fmt::format("the wall that faces {}: {}", bearing_in_words(*light.spot().facade_faces),
                     lit.empty() ? "no direct light" : "in the sun " + joined(lit)));
    if (!lit.empty())
        line(fmt::format("light rakes it ({:g} to {:g} degrees off square) {}",
                         settings_.raking_from_deg, settings_.raking_to_deg,
                         raking.empty() ? "never" : joined(raking)));
}

void ExteriorPage::evening(const study::SpotDay& day) const {
    const auto bands = [&](const std::vector<study::LateLight>& lights,
                           const study::LateLightBand& band) {
        std::vector<std::string> parts;
        for (const study::LateLight& l : lights)
            parts.push_back(fmt::format("{} {}", l.evening ? "evening" : "morning",
                                        span_inward({l.start, l.end, false, false}, zone_)));
        return fmt::format("sun {:g} to {:g} degrees: {}", band.high.above_horizon.in_degrees(),
                           band.low.above_horizon.in_degrees(),
                           parts.empty() ? "none" : joined(parts));
    };
    line("late light, " + bands(day.late_light, settings_.late_light));
    line("low sun, " + bands(day.low_sun, settings_.low_sun));
    start("for the late light", day.for_late_light);
    if (day.set) {
        std::string text = fmt::format("sunset {} (level horizon)", clock(*day.set));
        if (day.civil_dusk)
            text += fmt::format("; civil dusk {}, {} later", clock(*day.civil_dusk),
                                in_minutes(*day.civil_dusk - *day.set));
        if (day.nautical_dusk)
            text += fmt::format("; nautical dusk {}, {} after sunset", clock(*day.nautical_dusk),
                                in_minutes(*day.nautical_dusk - *day.set));
        if (!day.nautical_dusk) text += "; it does not get fully dark";
        line(text);
    }
    if (settings_.floor_lx)
        line(day.below_floor
                 ? fmt::format("the clear sky falls below {:g} lx at {}", *settings_.floor_lx,
                               minute_down(*day.below_floor, zone_))
                 : fmt::format("the clear sky does not fall through {:g} lx", *settings_.floor_lx));
}

void ExteriorPage::moon(const study::SpotDay& day) const {
    if (day.moon_sights.empty()) return;
    const study::MoonSight& first = day.moon_sights.front();
    std::string text = fmt::format("moon {:.0f} % lit, {}", 100 * first.illuminated_fraction,
                                   first.waxing ? "waxing" : "waning");
    for (const sun::Crossing& c : day.moon_rise_and_set)
        text += fmt::format(", {} {}", c.upward ? "rises" : "sets", clock(c.at));
    if (day.moon == sun::Side::always_above) text += ", up all day";
    if (day.moon == sun::Side::always_below) text += ", down all day";
    for (const study::MoonSight& m : day.moon_sights) {
        const bool midnight = &m == &day.moon_sights.back();
        const std::string when = midnight ? std::string{"24:00"} : clock(m.at);
        text += fmt::format("; {} {}", when, moon_words(m));
    }
    line(text);
}

void ExteriorPage::rows(const study::SpotLight& light,
                        const std::vector<study::SpotInstant>& rows) const {
    if (rows.empty()) return;
    const bool wall = light.spot().facade_faces.has_value();
    out_ << '\n';
    const int light_width = wall ? 17 : 13;
    constexpr const char* head = "  {:<6}{:>3}  {:<8}{:<{}}{:<12}{:<4}{:<9}{:<5}{}\n";
    fmt::print(out_, fmt::runtime(head), "", "sun", "", "", light_width, "shadow, m", "to",
               "sun klx", "sky", "stops");
    fmt::print(out_, fmt::runtime(head), "time", "deg", "azimuth", wall ? "light, wall" : "light",
               light_width, fmt::format("of {:g}, {:g}", settings_.person_m, settings_.stand_m), "",
               "low-high", "klx", "in 10'");
    for (const study::SpotInstant& now : rows) {
        std::string side = side_cell(now);
        if (wall && now.lit && now.incidence && now.incidence->in_degrees() < 90)
            side += fmt::format(" w{:.0f}", now.incidence->in_degrees());
        const double high = now.sun.apparent_altitude.above_horizon.in_degrees();
        fmt::print(out_, "  {:<6}{:>3.0f}  {:<8}{:<{}}{:<6}{:<6}{:<4}{:<9}{:<5}{}\n",
                   site::whole_minutes(now.at, zone_), high,
                   fmt::format("{:03.0f} {}", tell::rounded_turn(now.sun.azimuth.from_north, 0),
                               site::compass_letters(now.sun.azimuth)),
                   side, light_width, now.shadow ? metres(now.shadow->person_m) : "--",
                   now.shadow ? metres(now.shadow->stand_m) : "--",
                   now.shadow ? site::compass_letters(now.shadow->toward) : "--",
                   now.lit ? kilolux(through(now.sky.direct_normal_lx, now.through_trees)) +
                                 (now.through_trees < 1 ? "t" : "")
                           : "--",
                   kilolux(now.sky.diffuse_horizontal_lx.likely),
                   fall_cell(now.lit ? now.direct_fall : now.sky_fall));
    }
    for (const study::SpotInstant& now : rows)
        if (now.sun.true_altitude <= sun::rise_altitude)
            line(fmt::format("{}: moon {}", clock(now.at), moon_words(now.moon)));
}

void ExteriorPage::lamps(const std::vector<study::LampAtSpot>& lamps,
                         const std::optional<Instant>& sky_below,
                         const site::Location& location) const {
    if (lamps.empty()) return;
    for (const study::LampAtSpot& here : lamps) {
        const site::Lamp& lamp = location.lamps[here.lamp];
        std::string text = fmt::format("{} at night, {:.1f} m off and {:g} m high: ", lamp.name,
                                       here.along_ground_m, *lamp.height_m);
        if (here.blocked_by.empty())
            text += fmt::format("{} on the ground, {} on a face turned to it, {:g} K",
                                level_text(here.ground_lx), level_text(here.eye_lx), lamp.kelvin);
        else
            text += here.blocked_by + " stands between";
        line(text);
    }
    if (sky_below)
        line(fmt::format("the clear sky falls below the {} that lamps give at {}",
                         level_text(study::ground_lx(lamps)), minute_down(*sky_below, zone_)));
    out_ << '\n';
}

void ExteriorPage::thrown_back(const std::vector<study::FacadeLight>& facades,
                               const study::RoomStudy& study) const {
    out_ << "thrown back into the room\n";
    if (facades.empty()) line("by no facade of the file on this date");
    const room::Room& room = study.room();
    for (const study::FacadeLight& f : facades) {
        const bool glass = f.kind == room::Facade::Kind::glass;
        for (const study::ThrownBack& visit : f.visits) {
            std::string text =
                fmt::format("{} of {} into {}: {}", glass ? "glass" : "white render",
                            room.buildings[f.building].name, room.windows[f.window].name,
                            span_outward(visit.span, zone_));
            if (!glass) text += ", soft";
            line(text);
            for (const std::size_t mark : visit.marks)
                print_wrapped(out_, "REACHES THE MARK " + room.marks[mark].name, 6, 6);
        }
    }
    if (std::ranges::any_of(facades, [](const study::FacadeLight& f) {
            return f.kind == room::Facade::Kind::glass && !f.visits.empty();
        }))
        line(tell::glare_caution + std::string{"."});
    out_ << '\n';
}

void FacadeDates::add(site::LocalDate date, const study::FacadeLight& light) {
    auto run = std::ranges::find_if(runs_, [&](const Run& r) {
        return r.building == light.building && r.window == light.window;
    });
    if (run == runs_.end()) {
        runs_.push_back({light.building, light.window, light.kind, date, date, 0, 0, {}});
        run = runs_.end() - 1;
    }
    run->last = date;
    ++run->dates;
    if (std::ranges::any_of(light.visits, [](const auto& visit) { return !visit.marks.empty(); }))
        ++run->dates_on_a_mark;
    for (const study::ThrownBack& visit : light.visits)
        if (visit.span.length() > run->longest.length()) run->longest = visit.span;
}

void ExteriorPage::thrown_back(const FacadeDates& facades, const room::Room& room) const {
    out_ << "\nthrown back into the room\n";
    if (facades.runs().empty()) line("by no facade of the file in this range");
    for (const FacadeDates::Run& run : facades.runs()) {
        line(fmt::format("{} of {} into {}: on {} dates, {} to {}; longest {} {}{}",
                         run.kind == room::Facade::Kind::glass ? "glass" : "white render",
                         room.buildings[run.building].name, room.windows[run.window].name,
                         run.dates, site::iso_date(run.first), site::iso_date(run.last),
                         site::iso_date(site::local_date(run.longest.from, zone_)),
                         span_outward(run.longest, zone_),
                         run.dates_on_a_mark > 0
                             ? fmt::format("; REACHES A MARK on {}", run.dates_on_a_mark)
                             : std::string{}));
    }
    out_ << '\n';
}

void ExteriorPage::range_head() const {
    fmt::print(out_, "{:<14}{:<14}{:<16}{:<16}{:<14}{}\n", "date", "place", "direct light",
               "as wanted", "late light", "start");
}

void ExteriorPage::range_row(const study::SpotLight& light, const study::SpotDay& day) const {
    const auto cell = [&](const study::Span& span) {
        return clock_span(minute_after(span.from), minute_before(span.to), zone_).substr(0, 14);
    };
    std::string direct = day.direct.empty() ? "--" : "", wanted = "--", late = "--", start = "--";
    if (!day.direct.empty()) {
        direct = cell({day.direct.front().span.from, day.direct.back().span.to, false, false});
        if (day.direct.size() > 1) direct += '+';
    }
    if (const study::Span* span = longest(day.wanted)) {
        wanted = cell(*span);
        for (const study::SafeStart& s : day.for_wanted)
            if (s.light.from == span->from && s.latest) start = minute_down(*s.latest, zone_);
    }
    for (const study::LateLight& l : day.late_light)
        if (l.evening) late = cell({l.start, l.end, false, false});
    fmt::print(out_, "{:<14}{:<14}{:<16}{:<16}{:<14} {}\n", row_date(day.date),
               light.spot().name.substr(0, 13), direct, wanted, late, start);
}

void ExteriorPage::cautions(bool is_range) const {
    if (is_range)
        print_wrapped(out_,
                      "+: the direct light is broken; as wanted: the longest; late light: in the "
                      "evening; start: of the set-up, at the latest.",
                      0, 0);
    else
        print_wrapped(
            out_,
            "light: from camera left or right, *: the sun is in the frame, w: degrees off square "
            "to the wall; to: where the shadow points; sun klx square to the beam, t: through "
            "thin trees; stops in 10': lost over the next ten minutes, of the sun, in shade of the "
            "sky.",
            0, 0);
    print_wrapped(out_,
                  "Direct light is judged at the place, at eye height; levels are clear air's, "
                  "cloud is not foreseen. Last light is rounded down; sunset is good to a minute "
                  "or two: refraction. Bands and sides are common practice and can be set.",
                  0, 0);
    print_wrapped(out_,
                  fmt::format("{} Work at a roadside or after dark: local rules and licensed "
                              "practice decide.",
                              tell::sun_caution),
                  0, 0);
}

}  // namespace keyhour::cli
