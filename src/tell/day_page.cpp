#include "tell/day_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/read_back.hpp"
#include "tell/cautions.hpp"
#include "tell/document.hpp"
#include "tell/late_light_lines.hpp"
#include "tell/message.hpp"
#include "words/clock.hpp"
#include "words/late_light.hpp"
#include "words/levels.hpp"

namespace keyhour::tell {
namespace {

using study::DayEventKind;

const study::DayEvent* only(const study::Day& day, DayEventKind kind) {
    const study::DayEvent* found = nullptr;
    for (const study::DayEvent& event : day.events) {
        if (event.kind != kind) continue;
        if (found) return nullptr;
        found = &event;
    }
    return found;
}

/// As long as the printed ends say, where it has two.
Seconds told_length(const study::Day& day) {
    const study::DayEvent *rise = only(day, DayEventKind::rise),
                          *set = only(day, DayEventKind::set);
    if (!rise || !set || !(rise->at < set->at)) return day.length;
    return words::clock_length({rise->at, set->at, false, false});
}

std::string clock(const study::DayEvent& event, const site::Zone& zone) {
    return site::whole_minutes(words::event_minute(event.kind, event.at), zone);
}

/// "06:31", "00:12 and 23:50"; empty if the date has none.
std::string clocks(const study::Day& day, DayEventKind kind, const site::Zone& zone) {
    std::string text;
    for (const study::DayEvent& event : day.events)
        if (event.kind == kind) text += (text.empty() ? "" : " and ") + clock(event, zone);
    return text;
}

/// Named in a list: "civil 05:57".
std::string twilights(const study::Day& day, const site::Zone& zone,
                      std::initializer_list<std::pair<const char*, DayEventKind>> kinds) {
    std::string text;
    for (const auto& [word, kind] : kinds)
        if (const std::string at = clocks(day, kind, zone); !at.empty())
            text += fmt::format("{}{} {}", text.empty() ? "" : ", ", word, at);
    return text.empty() ? "none" : text;
}

const char* why_absent(const study::AbsentEvent& absent) {
    const bool skyline =
        absent.kind == DayEventKind::first_sun || absent.kind == DayEventKind::last_sun;
    switch (absent.sun) {
        case sun::Side::always_above:
            return skyline ? "the sun stays above the site's horizon"
                           : "the sun stays above that altitude";
        case sun::Side::always_below:
            return skyline ? "the sun stays below the site's horizon"
                           : "the sun stays below that altitude";
        case sun::Side::crosses:
            break;
    }
    return "on another date";
}

std::string degrees(double value) {
    return fmt::format("{:.0f}", value);
}

std::string kelvin(const std::optional<double>& k) {
    return k ? fmt::format("{:.0f}", std::round(*k / 100) * 100) : "--";
}

class DayPage {
public:
    DayPage(const ask::DayAnswer& answer, const DayQuestion& q)
        : day_{answer.day}, light_{answer.light}, q_{q}, zone_{q.location.site.zone} {}

    Paragraphs page() {
        if (!day_.exists) {
            say(zone_.name() + " leaves this date out");
            return std::move(out_);
        }
        sun();
        say(late_light());
        say("dawn: " +
            twilights(day_, zone_,
                      {{"astronomical", DayEventKind::astronomical_dawn},
                       {"nautical", DayEventKind::nautical_dawn},
                       {"civil", DayEventKind::civil_dawn}}) +
            "; dusk: " +
            twilights(day_, zone_,
                      {{"civil", DayEventKind::civil_dusk},
                       {"nautical", DayEventKind::nautical_dusk},
                       {"astronomical", DayEventKind::astronomical_dusk}}));
        absent();
        brightest();
        for (const site::Tree& tree : q_.location.trees)
            say(site::tree_in_words(tree, q_.dates.first, q_.dates.first));
        if (has(Detail::hours)) events();
        if (has(Detail::levels)) levels();
        say("rise, set: level horizon, good to 2 min");
        if (!light_.empty()) say(sun_caution);
        return std::move(out_);
    }

    /// "rise 06:31, set 18:00", "the sun is up all day".
    std::string rise_and_set() const {
        if (day_.state == study::DayState::sun_always_up) return "the sun is up all day";
        if (day_.state == study::DayState::sun_always_down) return "the sun does not rise";
        const std::string rise = clocks(day_, DayEventKind::rise, zone_),
                          set = clocks(day_, DayEventKind::set, zone_);
        std::string text = rise.empty() ? "no rise" : "rise " + rise;
        return text + (set.empty() ? ", no set" : ", set " + set);
    }

    /// "late light 06:11 to 07:17, 17:14 to 18:20 (sun to 17:32)".
    std::string late_in_short() const {
        std::string text;
        for (const study::LateLight& light : day_.late_light) {
            text += (text.empty() ? "late light " : ", ") +
                    words::clock_inward({light.start, light.end, false, false}, zone_);
            if (light.evening) text += fmt::format(" ({})", words::sun_in_short(light, zone_));
        }
        return text;
    }

private:
    void say(std::string text, std::size_t indent = 0) {
        if (!text.empty()) out_.push_back({std::move(text), indent, indent + 2});
    }
    bool has(Detail d) const { return q_.show.has(d); }

    void sun() {
        std::string text = rise_and_set();
        if (day_.state == study::DayState::sun_rises_or_sets)
            text += fmt::format(": the day has {}", words::in_minutes(told_length(day_)));
        say(text);
        const std::string first = clocks(day_, DayEventKind::first_sun, zone_),
                          last = clocks(day_, DayEventKind::last_sun, zone_);
        const bool own = !q_.location.site.horizon.is_level();
        if (own && !first.empty() && !last.empty())
            say(fmt::format("own horizon: first sun {}, last {}", first, last));
        else if (own && (!first.empty() || !last.empty()))
            say(fmt::format("own horizon: {} sun {}", first.empty() ? "last" : "first",
                            first.empty() ? last : first));
        if (const study::DayEvent* transit = only(day_, DayEventKind::transit))
            say(fmt::format("transit {}, sun {} high, due {}",
                            site::whole_minutes(transit->at, zone_),
                            degrees(transit->true_altitude.above_horizon.in_degrees()),
                            site::compass_letters(transit->azimuth)));
    }

    std::string late_light() const {
        std::string text;
        for (const study::LateLight& light : day_.late_light)
            text += fmt::format("{}{} {}, {}", text.empty() ? "" : "; ",
                                light.evening ? "evening" : "morning",
                                words::span_inward({light.start, light.end, false, false}, zone_),
                                sun_in_late_light(light, zone_));
        return fmt::format(
            "late light (sun {:g} to {:g}): {}", q_.band.high.above_horizon.in_degrees(),
            q_.band.low.above_horizon.in_degrees(), text.empty() ? "none on this date" : text);
    }

    /// Events of one reason stand together.
    void absent() {
        std::vector<std::pair<std::string, std::string>> reasons;
        for (const study::AbsentEvent& absent : day_.absent) {
            const std::string why = why_absent(absent);
            const auto same =
                std::ranges::find(reasons, why, &std::pair<std::string, std::string>::first);
            if (same == reasons.end())
                reasons.emplace_back(why, study::in_words(absent.kind));
            else
                same->second += ", " + study::in_words(absent.kind);
        }
        for (const auto& [why, kinds] : reasons)
            say(fmt::format("no {}: {}", kinds, why));
    }

    void brightest() {
        const auto most = std::ranges::max_element(
            light_, {}, [](const study::DayLight& l) { return l.clear_lx.likely; });
        if (most == light_.end() || most->clear_lx.likely <= 0) return;
        say(fmt::format(
            "brightest, open level ground at {}: {} clear sky, {} mean cloud, {} "
            "overcast",
            site::whole_minutes(most->at, zone_), words::level(most->clear_lx),
            words::rough_level(most->mean_cloud_lx), words::rough_level(most->overcast_lx)));
    }

    void events() {
        for (const study::DayEvent& event : day_.events)
            out_.push_back({fmt::format("{:<18} {}  azimuth {:5.1f} {:<3}  altitude {:5.1f}",
                                        study::in_words(event.kind), clock(event, zone_),
                                        rounded_turn(event.azimuth.from_north, 1),
                                        site::compass_letters(event.azimuth),
                                        rounded(event.true_altitude.above_horizon.in_degrees(), 1)),
                            0, 4});
    }

    /// "06:12 rise": an event is named, a whole hour is not.
    std::string when(const study::DayLight& l) const {
        if (!l.event) return site::whole_minutes(l.at, zone_);
        return site::whole_minutes(words::event_minute(*l.event, l.at), zone_) + ' ' +
               study::in_words(*l.event);
    }

    void levels() {
        constexpr double darkest_deg = -7;  // civil twilight; JSON has the night's levels
        say("light on open level ground: sun's height, clear sky (likely, low to high), mean "
            "cloud, overcast, K of sun and sky");
        for (const study::DayLight& l : light_)
            if (l.true_altitude_deg > darkest_deg)
                out_.push_back(
                    {fmt::format("{:<17} {:>5.1f}  {:<8} {:<15} {:<8} {:<8} {}", when(l),
                                 rounded(l.true_altitude_deg, 1), words::level(l.clear_lx),
                                 words::spread(l.clear_lx), words::rough_level(l.mean_cloud_lx),
                                 words::rough_level(l.overcast_lx), kelvin(l.mix_kelvin)),
                     0, 6});
        say("low to high: over the air's neighbouring classes and the published models. Mean "
            "cloud: an average over time, the sun out half of it; overcast: a mean, a stop and "
            "more to either side. Cloud about 6500 K.");
    }

    const study::Day& day_;
    const std::vector<study::DayLight>& light_;
    const DayQuestion& q_;
    const site::Zone& zone_;
    Paragraphs out_;
};

constexpr std::array row_kinds{
    DayEventKind::civil_dawn, DayEventKind::rise, DayEventKind::first_sun, DayEventKind::transit,
    DayEventKind::last_sun,   DayEventKind::set,  DayEventKind::civil_dusk};
constexpr const char* row_words[] = {"dawn", "rise", "first", "transit", "last", "set", "dusk"};

/// First of its kind on the date; "+" if there is another.
std::string cell(const study::Day& day, DayEventKind kind, const site::Zone& zone) {
    std::string text;
    for (const study::DayEvent& event : day.events) {
        if (event.kind != kind) continue;
        if (!text.empty()) return text + '+';
        text = clock(event, zone);
    }
    return text.empty() ? "--" : text;
}

constexpr int cell_width = 7;
constexpr std::size_t after_date = 15;

}  // namespace

Paragraphs day_page(const ask::DayAnswer& answer, const DayQuestion& q) {
    return DayPage{answer, q}.page();
}

Paragraph day_row_head() {
    std::string text = fmt::format("{:<15}{:<7}", "date", "UTC");
    for (std::size_t i = 0; i < row_kinds.size(); ++i)
        text += fmt::format("{:<{}}", row_words[i],
                            cell_width + (row_kinds[i] == DayEventKind::transit));
    return {text + "length", 0, after_date};
}

Paragraph day_row(const study::Day& day, const site::Zone& zone) {
    const Instant noon = zone.start_of(day.date) + Seconds{43200};
    std::string text = fmt::format("{:<15}{:<7}", words::row_date(day.date),
                                   words::offset_at(noon, zone).substr(3));
    for (const DayEventKind kind : row_kinds)
        text += fmt::format("{:<{}}", cell(day, kind, zone),
                            cell_width + (kind == DayEventKind::transit));
    const long minutes = std::lround(told_length(day).count() / 60);
    text += day.state == study::DayState::sun_always_up ? "up"
            : day.state == study::DayState::sun_always_down
                ? "down"
                : fmt::format("{}:{:02}", minutes / 60, minutes % 60);
    return {text, 0, after_date};
}

Paragraph day_row_foot() {
    return {
        "civil dawn and dusk; first and last sun: over the site's own horizon; --: none on this "
        "date",
        0, 0};
}

std::string day_message(const ask::DayAnswer& answer, const DayQuestion& q) {
    const study::Day& day = answer.day;
    const site::Zone& zone = q.location.site.zone;
    const std::string& name = q.location.site.name;
    const std::string head =
        fmt::format("{}{}{} {}", name, name.empty() ? "" : ", ", words::short_date(day.date),
                    words::offset_at(zone.start_of(day.date) + Seconds{43200}, zone));
    if (!day.exists) return message({"no such date: ", head});
    const DayPage page{answer, q};
    const std::string late = page.late_in_short(),
                      dusk = clocks(day, DayEventKind::civil_dusk, zone);
    return message({page.rise_and_set() + ' ', head, late.empty() ? late : "; " + late,
                    dusk.empty() ? dusk : "; civil dusk " + dusk});
}

}  // namespace keyhour::tell
