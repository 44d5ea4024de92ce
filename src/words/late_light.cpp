#include "words/late_light.hpp"

#include "words/clock.hpp"

namespace keyhour::words {

std::vector<study::Span> spans_in_sun(const study::LateLight& light) {
    std::vector<study::Span> out;
    for (const study::LateStretch& s : light.stretches)
        if (s.in_sun) out.push_back(s.span);
    return out;
}

std::string sun_in_short(const study::LateLight& light, const site::Zone& zone) {
    const std::vector<study::Span> sun = spans_in_sun(light);
    if (sun.empty()) return "sky alone";
    if (sun.size() > 1) return "sun to " + minute_down(sun.back().to, zone) + ", broken";
    const bool from_start = sun[0].from == light.start, to_end = sun[0].to == light.end;
    if (from_start && to_end) return "in the sun";
    if (from_start) return "sun to " + minute_down(sun[0].to, zone);
    if (to_end) return "sun from " + minute_up(sun[0].from, zone);
    return "sun " + clock_inward(sun[0], zone);
}

}  // namespace keyhour::words
