#include "sheet_text.hpp"

#include <fmt/format.h>

#include "keyhour/site/dates.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"
#include "words/levels.hpp"

namespace keyhour::tell {
Instant whole_minute(Instant t, Minute which) {
    return which == Minute::before  ? words::minute_before(t)
           : which == Minute::after ? words::minute_after(t)
                                    : words::nearest_minute(t);
}

std::string stop_text(double lx, const light::Exposure& exposure) {
    const light::TStopText text{light::nearest_t_stop(light::t_number(lx, exposure))};
    return std::string{text.view()};
}

std::string exposure_words(const light::Exposure& e) {
    return fmt::format("Stops at ISO {:g}, {:g} frames a second, shutter {:g} degrees, clear sky.",
                       e.iso, e.fps, e.shutter_deg);
}

std::string step_clock(Instant t, const site::Zone& zone, bool with_offset) {
    std::string text = site::whole_minutes(t, zone);
    if (with_offset) text += ' ' + site::utc_offset(zone.at(t).utc_offset);
    return text;
}

std::string json_in_page(const std::string& json) {
    std::string out;
    out.reserve(json.size());
    for (const char c : json) {
        if (c == '<')
            out += "\\u003c";
        else if (c == '>')
            out += "\\u003e";
        else if (c == '&')
            out += "\\u0026";
        else
            out += c;
    }
    return out;
}

}  // namespace keyhour::tell
