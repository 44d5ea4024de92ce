#include "lamp_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <ostream>

#include "keyhour/light/exposure.hpp"
#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/light_side.hpp"
#include "light_text.hpp"
#include "tell/cautions.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

class LampPage {
public:
    LampPage(const study::LampReport& report, const study::LampQuestion& question,
             const study::RoomStudy& study, std::ostream& out)
        : r_{report},
          q_{question},
          study_{study},
          room_{study.room()},
          lamp_{study.location().lamps[question.lamp]},
          out_{out} {}

    void print() {
        if (q_.sun_is_key) {
            sun_as_key();
        } else {
            head();
            place();
            if (r_.light) light();
        }
        fill();
        cautions();
    }

private:
    void line(const std::string& text) { print_wrapped(out_, text, 2, 6); }

    std::string clock(Instant t) const {
        const site::Zone& zone = study_.location().site.zone;
        return fmt::format("{} {} ({})", short_date(site::local_date(t, zone)),
                           site::whole_minutes(t, zone), offset_at(t, zone));
    }

    std::string sun_in_words() const {
        const study::SunToMatch& s = *r_.sun;
        return fmt::format("the sun of {}, towards {:.0f} {}, {:.1f} degrees high", clock(s.at),
                           s.position.azimuth.from_north.in_degrees(),
                           site::compass_letters(s.position.azimuth),
                           s.position.apparent_altitude.above_horizon.in_degrees());
    }

    void head() {
        print_wrapped(
            out_,
            fmt::format("{} through {} on {}", lamp_.name, room_.windows[r_.wish.window].name,
                        room_.marks[r_.wish.mark].name),
            0, 4);
        if (r_.sun)
            line("like " + sun_in_words());
        else if (q_.key)
            line(fmt::format(
                "for a key angle of {:g} degrees from camera {}, {:g} m above the "
                "ground",
                q_.key->key_angle_deg, room_.cameras[q_.key->camera].name, q_.key->height_m));
        else
            line("from where the file places it");
        if (r_.sun && r_.sun->coverage < q_.coverage)
            line(
                fmt::format("note: that sun itself lights {:.0f} % of the mark through this "
                            "window",
                            100 * r_.sun->coverage));
    }

    static std::string spot(const study::StandPlace& p) {
        return fmt::format("x {:.2f} y {:.2f}: {}, {:.2f} m from the mark", p.at.x, p.at.y,
                           study::beside_window_in_words(p), p.distance_m);
    }

    std::string against(const study::StandPlace& p) const {
        std::string text;
        for (const study::Obstacle& o : p.obstacles)
            text += (text.empty() ? "" : "; ") + study::words(o, room_, lamp_);
        return text;
    }

    void place() {
        const study::StandPlace& wanted = r_.stand.wanted;
        if (!wanted.is_reachable()) {
            line(
                fmt::format("NOT FROM THERE: {} (wanted {:.2f} m off the wall, {:.2f} m above the "
                            "ground)",
                            against(wanted), wanted.off_wall_m, wanted.height_above_ground_m));
            if (!r_.stand.nearest) {
                line("and from nowhere else does its light reach the mark through this window");
                return;
            }
            line(fmt::format("the nearest that is possible, {:.1f} degrees off that direction:",
                             r_.stand.nearest_off_deg));
        }
        const study::StandPlace& p = *r_.stand.place();
        line("stand at " + spot(p));
        std::string height =
            fmt::format("lamp {:.2f} m above the ground, {:.2f} m above the room's floor",
                        p.height_above_ground_m, p.at.z);
        if (!lamp_.stand_max_m) height += "; how high its stand goes is not told";
        line(height);
    }

    void light() {
        const study::LampLight& l = *r_.light;
        const double pan = l.pan.in_degrees(), tilt = l.tilt.in_degrees();
        line(fmt::format(
            "pan {:.0f} degrees to the {} of square to the wall, towards {} ({:.0f} "
            "true); tilt {:.0f} {}",
            std::abs(pan), pan > 0 ? "right" : "left", site::compass_words(l.bearing),
            l.bearing.from_north.in_degrees(), std::abs(tilt), tilt < 0 ? "down" : "up"));
        covers();
        patches();
        if (r_.difference) beside_the_sun();
        level();
        ratio();
        colour();
        burning();
        for (const study::AlsoEnters& w : l.also_enters)
            also_enters(w);
    }

    void covers() {
        std::string text =
            fmt::format("covers {:.0f} % of the mark", 100 * r_.stand.place()->coverage);
        if (r_.key_angle_deg) {
            text += fmt::format("; key angle {:.0f} to camera {}, {}", std::abs(*r_.key_angle_deg),
                                room_.cameras[*r_.camera].name,
                                study::light_side_in_words(*r_.key_angle_deg > 0));
            if (r_.in_frame) text += "; it stands towards that camera's frame: look through it";
        }
        line(text);
        const room::Cover cover = room_.windows[r_.wish.window].cover;
        if (cover != room::Cover::open)
            line(fmt::format("the file has a {} there: taken as open for this lamp",
                             cover == room::Cover::sheer ? "sheer" : "blackout"));
    }

    void patches() {
        std::string text;
        const auto add = [&](const room::Patch& p, const std::string& surface) {
            text += fmt::format("{}{} {:.2f} m2, soft edge {:.0f} cm", text.empty() ? "" : "; ",
                                surface, p.area_m2, 100 * p.edge_width_m);
        };
        for (const room::Patch& p : r_.light->patches)
            add(p, room::words(p.surface, room_));
        if (r_.light->on_ceiling) add(*r_.light->on_ceiling, "ceiling");
        line("patch: " + (text.empty() ? std::string{"none"} : text));
    }

    void beside_the_sun() {
        const study::SunDifference& d = *r_.difference;
        std::string text = fmt::format("beside the sun's on {}: {:.2f} m2 for {:.2f} m2",
                                       room::words(d.surface, room_), d.lamp_m2, d.sun_m2);
        if (d.centroid_apart_m)
            text += fmt::format(", middles {:.2f} m apart, edge {:.0f} cm for {:.0f}",
                                *d.centroid_apart_m, 100 * d.lamp_edge_m, 100 * d.sun_edge_m);
        line(text + fmt::format("; {:.2f} times as wide", d.growth));
        const std::string no = against(d.alike);
        line(fmt::format("at most {:.0f} % wider from {:.1f} m to the mark on{}",
                         100 * q_.alike_share, d.alike_from_m,
                         no.empty() ? ", which can be reached" : ": not from there, " + no));
    }

    void level() {
        const study::LampLight& l = *r_.light;
        std::string text =
            fmt::format("level at the mark {} (bare {}; glass passes {:.2f} at {:.0f} degrees)",
                        level_text(l.level_lx), level_text(l.bare_lx), l.transmittance,
                        l.incidence.in_degrees());
        if (r_.sun && r_.sun->direct_lx > 0 && l.level_lx > 0)
            text += fmt::format("; {:.1f} stops {} that sun's {}",
                                std::abs(light::stops_between(r_.sun->direct_lx, l.level_lx)),
                                r_.sun->direct_lx > l.level_lx ? "under" : "over",
                                level_text(r_.sun->direct_lx));
        line(text);
        line(
            fmt::format("it falls by {:.2f} stop across the mark and {:.1f} from there to what is "
                        "behind it (the sun: none); its rays spread by {:.1f} degrees across the "
                        "mark",
                        l.fall_off_across_mark_stops, l.fall_off_to_wall_stops,
                        l.spread_across_mark.in_degrees()));
        if (l.too_near)
            line("nearer than five times its face: the level is a little less than told");
    }

    void ratio() {
        std::string text =
            q_.room_light_at
                ? fmt::format("room's own light {}: {} beside the key, fill {}",
                              clock(*q_.room_light_at), level_text(r_.room_key_side_lx),
                              level_text(r_.room_fill_lx))
                : std::string{"room's own light: taken as dark outside, all off"};
        const light::KeyAndFill& v = r_.levels;
        text += fmt::format("; the room gives back {} of the lamp's",
                            level_text(r_.light->given_back_lx));
        line(text);
        if (v.key_lx <= 0 || v.fill_lx <= 0) return;
        using enum light::RatioConvention;
        line(
            fmt::format("key {} to fill {}: {:.1f} stops (key:fill {:.3g}:1; key plus fill:fill "
                        "{:.3g}:1)",
                        level_text(v.key_lx), level_text(v.fill_lx), v.stops(key_to_fill),
                        v.ratio(key_to_fill), v.ratio(key_plus_fill_to_fill)));
    }

    void colour() {
        std::string text = fmt::format("{:g} K", lamp_.kelvin);
        if (r_.mired_from_sun) {
            const double mired = *r_.mired_from_sun;
            text += fmt::format("; that sun {:.0f} K: the lamp is {:.0f} mired {}",
                                std::round(*r_.sun->kelvin / 100) * 100, std::abs(mired),
                                mired > 0 ? "warmer" : "cooler");
        }
        line(text);
    }

    void burning() {
        if (lamp_.watts || lamp_.battery_h || q_.hold) {
            std::string text =
                lamp_.watts ? fmt::format("{:g} W", *lamp_.watts) : std::string{"power not told"};
            if (lamp_.battery_h) {
                const Seconds burns{*lamp_.battery_h * 3600};
                text += fmt::format("; burns {}", in_minutes(burns));
                if (q_.hold)
                    text += *q_.hold <= burns
                                ? fmt::format(": enough for {}, {} to spare", in_minutes(*q_.hold),
                                              in_minutes(burns - *q_.hold))
                                : fmt::format(": NOT ENOUGH for {}", in_minutes(*q_.hold));
            } else if (q_.hold) {
                text += "; no battery_h in the file: mains, or ask";
            }
            line(text);
        }
    }

    void also_enters(const study::AlsoEnters& w) {
        std::string text = fmt::format("also enters {}: {} there", room_.windows[w.window].name,
                                       level_text(w.level_lx));
        if (w.mark_coverage > 0)
            text += fmt::format(", and lights {:.0f} % of the mark", 100 * w.mark_coverage);
        switch (room_.windows[w.window].cover) {
            case room::Cover::blackout:
                text += "; its blackout keeps it out";
                break;
            case room::Cover::sheer:
                text += "; its sheer scatters it";
                break;
            case room::Cover::open:
                text += "; cover it, or flag the lamp";
                break;
        }
        line(text);
    }

    void sun_as_key() {
        print_wrapped(
            out_,
            fmt::format("{} through {} on {}", sun_in_words(), room_.windows[r_.wish.window].name,
                        room_.marks[r_.wish.mark].name),
            0, 4);
        const light::KeyAndFill& v = r_.levels;
        line(fmt::format("key {}, fill that the room gives {}", level_text(v.key_lx),
                         level_text(v.fill_lx)));
    }

    void fill() {
        if (!q_.fill) return;
        const site::Lamp& lamp = study_.location().lamps[q_.fill->lamp];
        print_wrapped(out_,
                      fmt::format("fill: {} for {:g}:1, {}", lamp.name, q_.fill->ratio,
                                  light::words(q_.fill->convention)),
                      0, 4);
        if (!r_.fill) return line("there is no key to fill");
        const study::FillAnswer& f = *r_.fill;
        if (f.lamp_lx <= 0)
            return line(fmt::format("the room gives {} already, more than the {} wanted",
                                    level_text(r_.levels.fill_lx), level_text(f.wanted_fill_lx)));
        line(fmt::format("wants {} at the mark from the lamp, beside the {} that the room gives",
                         level_text(f.lamp_lx), level_text(r_.levels.fill_lx)));
        if (!f.distance_m)
            line("it is not as bright at any distance");
        else
            line(fmt::format(
                "{:.2f} m from the mark, aimed at it{}", *f.distance_m,
                *f.distance_m > f.farthest_m ? ": farther than the room is deep; dim it" : ""));
        if (f.placed_m) {
            std::string text = fmt::format("from its place, {:.2f} m off: ", *f.placed_m);
            if (f.blocked)
                text += room::words(*f.blocked, room_) + " stands between";
            else if (f.placed_dim_stops && *f.placed_dim_stops >= 0)
                text += fmt::format("{}, dim it by {:.1f} stops", level_text(*f.placed_lx),
                                    *f.placed_dim_stops);
            else
                text += fmt::format("{}, {:.1f} stops too little", level_text(*f.placed_lx),
                                    -f.placed_dim_stops.value_or(0));
            line(text);
        }
        if (lamp.battery_h && q_.hold && *q_.hold > Seconds{*lamp.battery_h * 3600})
            line(fmt::format("burns {}: NOT ENOUGH for {}",
                             in_minutes(Seconds{*lamp.battery_h * 3600}), in_minutes(*q_.hold)));
    }

    void cautions() {
        out_ << '\n';
        print_wrapped(
            out_,
            "The lamp counts as a point at its middle, aimed at the mark; level square to "
            "the ray. What the room gives back is a mean, good to a factor 2.",
            0, 0);
        print_wrapped(out_,
                      "Stands outside: ballast and tie them, watch the wind, keep ways free; rain "
                      "and mains need rated gear behind a residual-current device, checked by a "
                      "competent person; hot lamps well off cloth, gel and glass. Local codes and "
                      "licensed practice decide.",
                      0, 0);
        print_wrapped(out_, tell::glare_caution + std::string{"."}, 0, 0);
    }

    const study::LampReport& r_;
    const study::LampQuestion& q_;
    const study::RoomStudy& study_;
    const room::Room& room_;
    const site::Lamp& lamp_;
    std::ostream& out_;
};

}  // namespace

void print_lamp_page(const study::LampReport& report, const study::LampQuestion& question,
                     const study::RoomStudy& study, std::ostream& out) {
    LampPage{report, question, study, out}.print();
}

}  // namespace keyhour::cli
