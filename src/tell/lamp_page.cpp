#include "tell/lamp_page.hpp"

#include <fmt/format.h>

#include <cmath>

#include "keyhour/light/exposure.hpp"
#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/light_side.hpp"
#include "tell/cautions.hpp"
#include "tell/lamp_sentences.hpp"
#include "tell/message.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"
#include "words/levels.hpp"
#include "words/names.hpp"

namespace keyhour::tell {
namespace {

class LampPage {
public:
    explicit LampPage(const LampAnswer& answer)
        : r_{answer.report},
          q_{answer.question},
          study_{answer.study},
          room_{answer.study.room()},
          lamp_{answer.study.location().lamps[answer.question.lamp]},
          units_{answer.recce.units},
          show_{answer.show} {}

    Paragraphs page() {
        if (q_.sun_is_key) {
            sun_as_key();
        } else {
            asked();
            place();
            if (r_.light) light();
        }
        fill();
        closing();
        return std::move(out_);
    }

    std::string message_line() const {
        const study::StandPlace* p = q_.sun_is_key ? nullptr : r_.stand.place();
        const std::string head =
            q_.sun_is_key ? "the sun is the key"
                          : lamp_.name + " through " + room_.windows[r_.wish.window].name;
        const std::string like = q_.like ? " like the sun of " + clock(*q_.like) : std::string{};
        if (p == nullptr) return message({head, like, q_.sun_is_key ? "" : ": NOT FROM THERE"});
        std::vector<std::string> parts{
            fmt::format("{}: {}, {} up", head, beside_window_in_brief(r_.stand, units_),
                        words::placed_length(p->height_above_ground_m, units_)),
            like};
        if (r_.light)
            parts.push_back(fmt::format(
                ", tilt {:.0f} {}, {}", std::abs(r_.light->tilt.in_degrees()),
                r_.light->tilt < Angle{} ? "down" : "up", words::level(r_.light->level_lx)));
        if (!r_.stand.wanted.is_reachable())
            parts.push_back(fmt::format(", {:.0f} degrees off", r_.stand.nearest_off_deg));
        return message(parts);
    }

private:
    void say(std::string text) { out_.push_back({std::move(text)}); }

    std::string length(double metres) const { return stand_length(r_.stand, metres, units_); }

    std::string clock(Instant t) const {
        const site::Zone& zone = study_.location().site.zone;
        return fmt::format("{} {} ({})", words::short_date(site::local_date(t, zone)),
                           site::whole_minutes(t, zone), words::offset_at(t, zone));
    }

    /// "the sun of 13:30, SSW, 23 high": its date stands above.
    std::string sun_in_words() const {
        const study::SunToMatch& s = *r_.sun;
        return fmt::format("the sun of {} ({}, {:.0f} high)",
                           site::whole_minutes(s.at, study_.location().site.zone),
                           site::compass_letters(s.position.azimuth),
                           s.position.apparent_altitude.above_horizon.in_degrees());
    }

    void asked() {
        std::string text = lamp_.name;
        if (r_.sun)
            text += " like " + sun_in_words();
        else if (q_.key)
            text += fmt::format(" at a key angle of {:g} from camera {}", q_.key->key_angle_deg,
                                room_.cameras[q_.key->camera].name);
        else if (q_.through_middle)
            text += " through the window's middle";
        else
            text += " where the file places it";
        say(text + fmt::format(", {} on {}", room_.windows[r_.wish.window].name,
                               room_.marks[r_.wish.mark].name));
        if (r_.sun && r_.sun->coverage < q_.coverage)
            say(fmt::format("that sun itself lights {:.0f} % of the mark through this window",
                            100 * r_.sun->coverage));
        const room::Cover cover = room_.windows[r_.wish.window].cover;
        if (r_.light && cover != room::Cover::open)
            say(fmt::format("the file has a {} there: taken as open for this lamp",
                            words::name(cover)));
    }

    void place() {
        const study::StandPlace& wanted = r_.stand.wanted;
        if (!wanted.is_reachable()) {
            say(fmt::format("NOT FROM THERE: {} (wanted {} off the wall, {} above the ground)",
                            against(wanted, room_, lamp_, units_),
                            words::placed_length(wanted.off_wall_m, units_),
                            words::placed_length(wanted.height_above_ground_m, units_)));
            if (!r_.stand.nearest)
                return say(
                    "and from nowhere else does its light reach the mark through this "
                    "window");
            say("the nearest that is possible, " + traded(r_.stand, units_) + ":");
        }
        const study::StandPlace& p = *r_.stand.place();
        say(fmt::format("stand {} (from inside), {} from the mark",
                        beside_window_in_brief(r_.stand, units_), length(p.distance_m)));
        std::string height = fmt::format("lamp {} above ground ({} above floor)",
                                         words::placed_length(p.height_above_ground_m, units_),
                                         words::placed_length(p.at.z, units_));
        if (!lamp_.stand_max_m) height += ", how high its stand goes is not told";
        if (r_.light) height += ", " + aim_in_brief(*r_.light);
        say(height);
        if (show_.has(Detail::readback))
            say(fmt::format("on the plan x {:.2f} y {:.2f} m; towards {} ({:.0f} true)", p.at.x,
                            p.at.y, r_.light ? site::compass_words(r_.light->bearing) : "the mark",
                            r_.light ? r_.light->bearing.from_north.in_degrees() : 0.0));
    }

    void light() {
        covers();
        level();
        if (r_.difference) say(beside_the_sun(*r_.difference, room_, units_));
        if (show_.has(Detail::levels)) in_full();
        burning();
        for (const study::AlsoEnters& w : r_.light->also_enters)
            also_enters(w);
    }

    void covers() {
        std::string text;
        if (r_.key_angle_deg)
            text = fmt::format("key angle {:.0f} (camera {}), {}; ", std::abs(*r_.key_angle_deg),
                               room_.cameras[*r_.camera].name,
                               study::light_side_in_words(*r_.key_angle_deg > 0));
        text += fmt::format("mark lit {:.0f} %", 100 * r_.stand.place()->coverage);
        if (r_.key_angle_deg && r_.in_frame)
            text += "; it stands towards that camera's frame: look through it";
        say(text);
    }

    /// Level, sun, ratio and colour in one sentence.
    void level() {
        const study::LampLight& l = *r_.light;
        std::string text = words::level(l.level_lx) + " at the mark";
        if (r_.sun && r_.sun->direct_lx > 0 && l.level_lx > 0)
            text += fmt::format(", {:.1f} stops {} that sun",
                                std::abs(light::stops_between(r_.sun->direct_lx, l.level_lx)),
                                r_.sun->direct_lx > l.level_lx ? "under" : "over");
        if (const light::KeyAndFill& v = r_.levels; v.key_lx > 0 && v.fill_lx > 0) {
            const double ratio = v.ratio(light::RatioConvention::key_to_fill);
            text += "; key:fill " + words::ratio(ratio, ratio) +
                    (q_.room_light_at   ? ""
                     : r_.forges_lx > 0 ? " in a room lit by its forge alone"
                                        : " in a dark room");
        }
        if (r_.mired_from_sun)
            text += fmt::format("; {:.0f} mired {}", std::abs(*r_.mired_from_sun),
                                *r_.mired_from_sun > 0 ? "warmer" : "cooler");
        say(text);
        if (const auto& d = r_.doubt;
            d && (show_.has(Detail::doubt) || d->least_coverage < q_.coverage))
            say((d->least_coverage < q_.coverage ? "THE MARK MAY LOSE LIGHT " : "") +
                stand_doubt_words(*d, units_));
        if (l.too_near)
            say("nearer than five times its face: the level is a little less than told");
    }

    void in_full() {
        for (std::string& line : lamp_light_lines(r_, q_, room_, lamp_, units_))
            say(std::move(line));
        if (q_.room_light_at)
            say(fmt::format("room's own light {}: {} beside the key, fill {}",
                            clock(*q_.room_light_at), words::level(r_.room_key_side_lx),
                            words::fill_level(r_.room_fill_lx)));
        else
            say(r_.forges_lx > 0 ? "room's own light: taken as dark outside, forge alone"
                                 : "room's own light: taken as dark outside, all off");
    }

    /// Told where a hold was asked for; else with the levels.
    void burning() {
        if (!q_.hold && !show_.has(Detail::levels)) return;
        std::string text =
            lamp_.watts ? fmt::format("{:g} W", *lamp_.watts) : std::string{"power not told"};
        if (lamp_.battery_h) {
            const Seconds burns{*lamp_.battery_h * 3600};
            text += fmt::format("; burns {}", words::in_minutes(burns));
            if (q_.hold)
                text +=
                    *q_.hold <= burns
                        ? fmt::format(": enough for {}, {} to spare", words::in_minutes(*q_.hold),
                                      words::in_minutes(burns - *q_.hold))
                        : fmt::format(": NOT ENOUGH for {}", words::in_minutes(*q_.hold));
        } else if (q_.hold) {
            text += "; no battery_h in the file: mains, or ask";
        }
        say(text);
    }

    void also_enters(const study::AlsoEnters& w) {
        std::string text = fmt::format("also enters {}: {} there", room_.windows[w.window].name,
                                       words::level(w.level_lx));
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
        say(text);
    }

    void sun_as_key() {
        const light::KeyAndFill& v = r_.levels;
        say(fmt::format("{}, through {} on {}: key {}, fill that the room gives {}", sun_in_words(),
                        room_.windows[r_.wish.window].name, room_.marks[r_.wish.mark].name,
                        words::level(v.key_lx), words::fill_level(v.fill_lx)));
    }

    void fill() {
        if (!q_.fill) return;
        const site::Lamp& lamp = study_.location().lamps[q_.fill->lamp];
        for (std::string& line : fill_lines(r_, *q_.fill, lamp, room_, units_))
            say(std::move(line));
        if (r_.fill && lamp.battery_h && q_.hold && *q_.hold > Seconds{*lamp.battery_h * 3600})
            say(fmt::format("{} burns {}: NOT ENOUGH for {}", lamp.name,
                            words::in_minutes(Seconds{*lamp.battery_h * 3600}),
                            words::in_minutes(*q_.hold)));
    }

    void closing() {
        say(wall_in_brief(room_, room_.windows[r_.wish.window].wall));
        if (show_.has(Detail::levels))
            say("the lamp counts as a point at its middle, aimed at the mark; level square to the "
                "ray; what the room gives back is a mean, good to a factor 2");
        if (!q_.sun_is_key) out_.push_back({lamp_outside_caution, 0, 0});
    }

    const study::LampReport& r_;
    const study::LampQuestion& q_;
    const study::RoomStudy& study_;
    const room::Room& room_;
    const site::Lamp& lamp_;
    site::Units units_;
    Details show_;
    Paragraphs out_;
};

}  // namespace

Paragraphs lamp_page(const LampAnswer& answer) {
    return LampPage{answer}.page();
}

std::string lamp_message(const LampAnswer& answer) {
    return LampPage{answer}.message_line();
}

}  // namespace keyhour::tell
