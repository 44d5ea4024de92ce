#include "tell/late_light_lines.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "words/clock.hpp"
#include "words/late_light.hpp"
#include "words/levels.hpp"
#include "words/names.hpp"

namespace keyhour::tell {
namespace {

/// Its thing in brackets, where one is known.
std::string by(const study::LateLight& light) {
    return light.behind.empty() ? std::string{} : fmt::format(" ({})", light.behind);
}

/// " 1.9 klx, -0.9 to -1.9 stops in 10 min"; empty where the sky was not asked about.
std::string sky(const study::LateStretch& s) {
    if (!s.sky) return {};
    const std::string first = words::signed_stops(-s.sky->first_stops),
                      last = words::signed_stops(-s.sky->last_stops);
    return fmt::format(" {}, {} stops in 10 min", words::level(s.sky->at_start_lx.likely),
                       first == last ? first : first + " to " + last);
}

std::string listed(const std::vector<study::Span>& spans, const site::Zone& zone) {
    std::string text;
    for (const study::Span& s : spans)
        text += (text.empty() ? "" : " and ") + words::clock_inward(s, zone);
    return text;
}

/// Once the sun has gone for good.
std::string then_sky(const study::LateLight& light) {
    const study::LateStretch& last = light.stretches.back();
    if (last.in_sun) return {};
    return ", then sky alone" + sky(last);
}

std::string evening(const study::LateLight& light, const std::vector<study::Span>& sun,
                    const site::Zone& zone) {
    if (sun.empty())
        return (light.sun_at ? "sun gone " + words::minute_down(*light.sun_at, zone) : "no sun") +
               by(light) + ", sky" + (light.stretches.back().sky ? "" : " alone") +
               sky(light.stretches.back());
    const bool whole = sun.size() == 1 && sun[0].from == light.start;
    if (whole && sun[0].to == light.end) return "in the sun";
    if (!whole) return "sun " + listed(sun, zone) + by(light) + then_sky(light);
    return "sun to " + words::minute_down(sun[0].to, zone) + by(light) + then_sky(light);
}

std::string morning(const study::LateLight& light, const std::vector<study::Span>& sun,
                    const site::Zone& zone) {
    const std::string from =
        light.sun_at
            ? fmt::format("sun from {}{}", words::minute_up(*light.sun_at, zone), by(light))
            : std::string{};
    if (sun.empty()) return from.empty() ? "no sun" + by(light) : from;
    if (sun.size() == 1 && sun[0].to == light.end)
        return sun[0].from == light.start ? "in the sun" : from;
    return "sun " + listed(sun, zone) + by(light);
}

}  // namespace

std::string sun_in_late_light(const study::LateLight& light, const site::Zone& zone) {
    const std::vector<study::Span> sun = words::spans_in_sun(light);
    return light.evening ? evening(light, sun, zone) : morning(light, sun, zone);
}

std::string late_light_in_short(const study::LateLight& light, const site::Zone& zone) {
    return fmt::format("late light {}, {}",
                       words::clock_inward({light.start, light.end, false, false}, zone),
                       words::sun_in_short(light, zone));
}

std::string set_up_words(const study::SafeStart& start, Seconds shot, const site::Zone& zone) {
    if (!start.latest) return "too short for a shot of " + words::in_minutes(shot);
    return fmt::format("set up by {}, slack {}", words::minute_down(*start.latest, zone),
                       words::at_least(words::promised_length(start.light) - shot));
}

std::string late_start_words(const study::SpotDay& day, site::Side wants, Seconds shot,
                             const site::Zone& zone) {
    std::string text;
    for (const study::SafeStart& s : day.for_late_light)
        if (s.latest || day.for_late_light.size() == 1)
            text += (text.empty() ? "" : "; ") + set_up_words(s, shot, zone);
    const bool sun = std::ranges::any_of(day.late_light, [](const study::LateLight& l) {
        return l.evening && !words::spans_in_sun(l).empty();
    });
    return day.for_late_light.empty() && sun ? "no " + wanted_words(wants) + " in it" : text;
}

std::string wanted_words(site::Side side) {
    return side == site::Side::any ? "direct light" : fmt::format("{} light", words::name(side));
}

}  // namespace keyhour::tell
