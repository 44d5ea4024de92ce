#include "tell/exterior_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "tell/cautions.hpp"
#include "tell/late_light_lines.hpp"
#include "tell/message.hpp"
#include "tell/spot_hours.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"
#include "words/levels.hpp"
#include "words/names.hpp"

namespace keyhour::tell {
namespace {

std::string bearing_in_words(Angle bearing) {
    const Azimuth a{wrapped_turn(bearing)};
    return fmt::format("{}, {:g} true", site::compass_letters(a), a.from_north.in_degrees());
}

std::string in_a_row(const std::vector<std::string>& list) {
    return fmt::format("{}", fmt::join(list, ", "));
}

const study::Span* longest_of(const std::vector<study::Span>& spans) {
    const auto it = std::ranges::max_element(spans, {}, words::clock_length);
    return it == spans.end() ? nullptr : &*it;
}

/// How far an end of the light spreads.
Seconds spread(const std::optional<study::Span>& end) {
    return end ? end->length() : Seconds{0};
}

class SpotPage {
public:
    SpotPage(const SpotAnswer& answer, const ExteriorQuestion& q)
        : a_{answer}, day_{answer.day}, q_{q}, zone_{q.location.site.zone} {}

    Paragraphs block() {
        const site::Spot& spot = a_.light.spot();
        say(fmt::format("{}: camera looks {}, {}, {} set-up, {} shot", spot.name,
                        bearing_in_words(spot.camera_bearing),
                        spot.wants == site::Side::any ? "any light" : wanted_words(spot.wants),
                        words::in_minutes(q_.settings.set_up),
                        words::in_minutes(q_.settings.shot)));
        if (!day_.exists) {
            say(zone_.name() + " leaves this date out");
            return std::move(out_);
        }
        wanted();
        for (std::size_t i = 0; i < day_.direct.size(); ++i)
            direct(i);
        sides();
        frame();
        facade();
        evening();
        lamps();
        if (has(Detail::levels)) say(moon_line(day_, zone_));
        if (has(Detail::hours) || q_.timed)
            for (Paragraph& p : spot_hours(a_, q_))
                out_.push_back(std::move(p));
        return std::move(out_);
    }

    /// "side light 08:29 to 12:14", "no side light".
    std::string wanted_in_short() const {
        const std::string wanted = wanted_words(a_.light.spot().wants);
        const study::Span* span = longest_of(day_.wanted);
        return span ? wanted + ' ' + words::clock_inward(*span, zone_) : "no " + wanted;
    }

    /// "set up by 11:44"; empty where there is no such start.
    std::string start_in_short() const {
        const study::Span* span = longest_of(day_.wanted);
        for (const study::SafeStart& s : day_.for_wanted)
            if (span && s.light.from == span->from && s.latest)
                return "set up by " + words::minute_down(*s.latest, zone_);
        return {};
    }

    /// "direct 07:13 to 15:51, broken".
    std::string direct_in_short() const {
        if (day_.direct.empty()) return "no direct light";
        const study::Span whole{day_.direct.front().span.from, day_.direct.back().span.to, false,
                                false};
        return fmt::format("direct {}{}", words::clock_inward(whole, zone_),
                           day_.direct.size() > 1 ? ", broken" : "");
    }

    /// "late light 17:14 to 18:20, sun to 17:32", of the evening; empty without any.
    std::string late_in_short() const {
        for (const study::LateLight& l : day_.late_light)
            if (l.evening) return late_light_in_short(l, zone_);
        return {};
    }

private:
    void say(std::string text, std::size_t indent = 0) {
        if (!text.empty()) out_.push_back({std::move(text), indent, indent + 2});
    }
    bool has(Detail d) const { return q_.show.has(d); }

    /// To the nearest minute: for what neither begins nor ends a promise.
    std::string clock(Instant t) const {
        return site::whole_minutes(words::nearest_minute(t), zone_);
    }

    void wanted() {
        const std::string wanted = wanted_words(a_.light.spot().wants);
        if (day_.no_direct == study::NoDirect::sun_stays_down)
            return say(fmt::format("NO {}: the sun stays below the horizon", wanted));
        if (day_.no_direct == study::NoDirect::stays_in_shade)
            return say(fmt::format("NO {}: in shade while the sun is up", wanted));
        if (day_.wanted.empty()) return say(fmt::format("NO {} on this date", wanted));
        std::vector<std::string> spans;
        for (const study::Span& span : day_.wanted)
            spans.push_back(words::span_inward(span, zone_));
        const std::string text = fmt::format("{} {}", wanted, in_a_row(spans));
        const auto words = [&](const study::SafeStart& s) {
            return set_up_words(s, q_.settings.shot, zone_);
        };
        if (day_.for_wanted.size() == 1) return say(text + "; " + words(day_.for_wanted[0]));
        say(text);
        std::vector<std::string> starts;
        for (const study::SafeStart& s : day_.for_wanted)
            if (s.latest) starts.push_back(words(s));
        if (!starts.empty()) say(fmt::format("{}", fmt::join(starts, "; ")));
    }

    void direct(std::size_t i) {
        const study::DirectSpan& d = day_.direct[i];
        if (d.begins_at_midnight && d.ends_at_midnight)
            return say("direct light all day and night");
        std::string text = fmt::format("direct light {}, begins by {}, ends by {}",
                                       words::clock_inward(d.span, zone_), d.begins_by, d.ends_by);
        if (i < a_.ends.size() && (a_.ends[i].begins || a_.ends[i].ends)) {
            std::vector<std::string> between;
            if (a_.ends[i].begins) between.push_back("begins " + end(*a_.ends[i].begins));
            if (a_.ends[i].ends) between.push_back("ends " + end(*a_.ends[i].ends));
            text += (i == 0 ? "; in 9 of 10 cases " : "; 9/10 ") + in_a_row(between);
        }
        say(text);
    }

    /// "07:06 to 07:19", with its length where the doubt is asked about.
    std::string end(const study::Span& between) const {
        return has(Detail::doubt) ? words::span_outward(between, zone_)
                                  : words::clock_outward(between, zone_);
    }

    /// Told where the shot takes any side.
    void sides() {
        if (a_.light.spot().wants != site::Side::any && !has(Detail::hours)) return;
        std::vector<std::string> list;
        for (const study::SideSpan& s : day_.sides)
            if (s.span.length() >= Seconds{60})
                list.push_back(
                    fmt::format("{} {}", words::name(s.side), words::clock_inward(s.span, zone_)));
        if (!list.empty()) say("from the lens: " + in_a_row(list));
    }

    void frame() {
        const auto told = [&](const std::vector<study::Span>& spans) {
            std::vector<std::string> list;
            for (const study::Span& span : spans)
                list.push_back(has(Detail::hours) ? words::span_outward(span, zone_)
                                                  : words::clock_outward(span, zone_));
            return in_a_row(list);
        };
        std::string text;
        if (!day_.in_frame.empty()) text = "sun in the frame " + told(day_.in_frame);
        if (!day_.in_frame_upright.empty())
            text += (text.empty() ? "sun in the upright frame " : "; upright ") +
                    told(day_.in_frame_upright);
        say(text);
    }

    void facade() {
        if (!a_.light.spot().facade_faces) return;
        const auto told = [&](const std::vector<study::Span>& spans) {
            std::vector<std::string> list;
            for (const study::Span& span : spans)
                list.push_back(words::span_inward(span, zone_));
            return in_a_row(list);
        };
        std::string text = fmt::format(
            "the wall that faces {}: {}", bearing_in_words(*a_.light.spot().facade_faces),
            day_.on_facade.empty() ? std::string{"no direct light"}
                                   : "in the sun " + told(day_.on_facade));
        if (!day_.on_facade.empty())
            text += fmt::format("; light rakes it ({:g} to {:g} degrees off square) {}",
                                q_.settings.raking_from_deg, q_.settings.raking_to_deg,
                                day_.raking.empty() ? std::string{"never"} : told(day_.raking));
        say(text);
    }

    std::string band(const char* name, const std::vector<study::LateLight>& lights,
                     const study::LateLightBand& altitudes) const {
        std::vector<std::string> list;
        for (const study::LateLight& l : lights)
            list.push_back(fmt::format(
                "{} {}{}", l.evening ? "evening" : "morning",
                words::clock_inward({l.start, l.end, false, false}, zone_),
                l.evening || has(Detail::hours) ? ", " + sun_in_late_light(l, zone_) : ""));
        return fmt::format("{} (sun {:g} to {:g}): {}", name,
                           altitudes.high.above_horizon.in_degrees(),
                           altitudes.low.above_horizon.in_degrees(),
                           list.empty() ? "none" : fmt::format("{}", fmt::join(list, "; ")));
    }

    void evening() {
        std::string late = band("late light", day_.late_light, q_.settings.late_light);
        if (const std::string start =
                late_start_words(day_, a_.light.spot().wants, q_.settings.shot, zone_);
            !start.empty())
            late += "; " + start;
        say(late);
        if (has(Detail::hours)) say(band("low sun", day_.low_sun, q_.settings.low_sun));
        if (day_.set) say(dusk());
        if (!q_.settings.floor_lx) return;
        say(day_.below_floor ? fmt::format("the clear sky falls below {} at {}",
                                           words::level(*q_.settings.floor_lx),
                                           words::minute_down(*day_.below_floor, zone_))
                             : fmt::format("the clear sky does not fall through {}",
                                           words::level(*q_.settings.floor_lx)));
    }

    std::string dusk() const {
        const auto after = [&](Instant t) {
            return has(Detail::hours)
                       ? fmt::format(
                             " ({} after it)",
                             words::in_minutes(words::clock_length({*day_.set, t, false, false})))
                       : std::string{};
        };
        std::string text = fmt::format("sunset {} (level horizon)", clock(*day_.set));
        if (day_.civil_dusk)
            text += ", civil dusk " + clock(*day_.civil_dusk) + after(*day_.civil_dusk);
        if (day_.nautical_dusk)
            return text + ", nautical dusk " + clock(*day_.nautical_dusk) +
                   after(*day_.nautical_dusk);
        return text + ", it does not get fully dark";
    }

    void lamps() {
        if (a_.lamps.empty()) return;
        const double ground = study::ground_lx(a_.lamps);
        if (a_.sky_below)
            say(fmt::format("lamps: {}, over the sky's from {}", words::level(ground),
                            words::minute_down(*a_.sky_below, zone_)));
        else if (ground > 0)
            say(fmt::format("lamps: {}", words::level(ground)));
        if (!has(Detail::levels)) return;
        for (const study::LampAtSpot& here : a_.lamps) {
            const site::Lamp& lamp = q_.location.lamps[here.lamp];
            std::string text = fmt::format("{} at night, {} off and {} high: ", lamp.name,
                                           words::length(here.along_ground_m, q_.recce.units, 1),
                                           words::length(*lamp.height_m, q_.recce.units, 1));
            text += here.blocked_by.empty()
                        ? fmt::format("{} on the ground, {} on a face turned to it, {:g} K",
                                      words::level(here.ground_lx), words::level(here.eye_lx),
                                      lamp.kelvin)
                        : here.blocked_by + " stands between";
            say(text, 2);
        }
    }

    const SpotAnswer& a_;
    const study::SpotDay& day_;
    const ExteriorQuestion& q_;
    const site::Zone& zone_;
    Paragraphs out_;
};

}  // namespace

bool is_bearing_needed(const SpotAnswer& answer, const ExteriorQuestion& q) {
    constexpr Seconds too_wide{20 * 60};
    if (!q.location.room || q.recce.bearing_within_given) return false;
    return std::ranges::any_of(answer.day.direct, [&](const study::DirectSpan& d) {
        const auto i = static_cast<std::size_t>(&d - answer.day.direct.data());
        return i < answer.ends.size() &&
               ((d.begin_turns && spread(answer.ends[i].begins) > too_wide) ||
                (d.end_turns && spread(answer.ends[i].ends) > too_wide));
    });
}

std::string stands_inside(const ask::SpotInside& spot, const site::Location& location) {
    return fmt::format(
        "place outside \"{}\" stands in {}: direct light is judged as if from inside it",
        location.spots[spot.spot].name, spot.thing);
}

Paragraphs spot_block(const SpotAnswer& answer, const ExteriorQuestion& q) {
    return SpotPage{answer, q}.block();
}

Paragraph spot_row(const SpotAnswer& answer, const ExteriorQuestion& q) {
    const SpotPage page{answer, q};
    std::string text = words::row_date(answer.day.date) + ' ';
    if (q.spots > 1) text += answer.light.spot().name + ": ";
    if (!answer.day.exists) return {text + "the clocks leave this date out", 0, 14};
    const bool any = answer.light.spot().wants == site::Side::any;
    text += any ? page.direct_in_short() : page.wanted_in_short();
    for (const std::string& part :
         {page.start_in_short(), any ? std::string{} : page.direct_in_short(),
          page.late_in_short()})
        if (!part.empty()) text += "; " + part;
    return {text, 0, 14};
}

std::string spot_message(const SpotAnswer& answer, const ExteriorQuestion& q) {
    const SpotPage page{answer, q};
    const site::Zone& zone = q.location.site.zone;
    const std::string& place = q.location.site.name;
    const study::SpotDay& day = answer.day;
    std::string head =
        fmt::format("{}, {}{}{} {}", answer.light.spot().name, place, place.empty() ? "" : ", ",
                    words::short_date(day.date),
                    words::offset_at(zone.start_of(day.date) + Seconds{43200}, zone));
    if (!day.exists) return message({"no such date: ", head});
    const auto part = [](const std::string& text) { return text.empty() ? text : "; " + text; };
    const std::string ends_by =
        day.direct.empty() ? std::string{} : "; ends by " + day.direct.back().ends_by;
    return message({page.wanted_in_short() + ' ', head, part(page.start_in_short()),
                    part(page.direct_in_short()), ends_by, part(page.late_in_short())});
}

Paragraphs exterior_foot(const ExteriorQuestion& q) {
    Paragraphs out;
    const bool hours = !q.dates.is_range && (q.show.has(Detail::hours) || q.timed);
    if (hours) out.push_back({spot_hours_meaning, 0, 0});
    if (q.show.has(Detail::doubt))
        out.push_back(
            {"cases: skyline, heights outside, bearing, clock and refraction moved within "
             "their doubts; check lists them. Last light is rounded down; sunset is good "
             "to a minute or two: refraction.",
             0, 0});
    if (hours || q.show.has(Detail::levels))
        out.push_back(
            {"Direct light is judged at the place, at eye height; levels are clear "
             "air's, cloud is not foreseen. Bands and sides are common practice and can "
             "be set.",
             0, 0});
    if (q.dates.is_range)
        out.push_back(
            {"longest as wanted; set up by: at the latest; late light of the evening", 0, 0});
    out.push_back({sun_caution, 0, 0});
    out.push_back({"At a roadside or after dark local rules and licensed practice decide.", 0, 0});
    return out;
}

}  // namespace keyhour::tell
