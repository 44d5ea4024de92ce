#include "sheet_text.hpp"

#include <fmt/format.h>

#include <cmath>

#include "keyhour/site/dates.hpp"

namespace keyhour::tell {
namespace {

constexpr double minute_s = 60;

std::string clocks(Instant from, Instant to, const site::Zone& zone) {
    const bool ends_a_date = to == zone.start_of(site::local_date(to, zone));
    return fmt::format("{} to {}", site::whole_minutes(from, zone),
                       ends_a_date ? "24:00" : site::whole_minutes(to, zone));
}

}  // namespace

Instant whole_minute(Instant t, Minute which) {
    const double minutes = t.unix_s() / minute_s;
    const double whole = which == Minute::before  ? std::floor(minutes)
                         : which == Minute::after ? std::ceil(minutes)
                                                  : std::round(minutes);
    return Instant::from_unix_s(whole * minute_s);
}

std::string length_text(Seconds length) {
    const long minutes = std::lround(length.count() / minute_s);
    if (minutes < 60) return fmt::format("{} min", minutes);
    return fmt::format("{} h {:02} min", minutes / 60, minutes % 60);
}

Seconds told_length(const study::Span& span) {
    return whole_minute(span.to, Minute::nearest) - whole_minute(span.from, Minute::nearest);
}

Seconds promised_length(const study::Span& span) {
    return std::max(Seconds{0},
                    whole_minute(span.to, Minute::before) - whole_minute(span.from, Minute::after));
}

Seconds covered_length(const study::Span& span) {
    return whole_minute(span.to, Minute::after) - whole_minute(span.from, Minute::before);
}

std::string span_text(const study::Span& span, const site::Zone& zone) {
    return clocks(whole_minute(span.from, Minute::nearest), whole_minute(span.to, Minute::nearest),
                  zone);
}

std::string span_inward(const study::Span& span, const site::Zone& zone) {
    const Instant from = whole_minute(span.from, Minute::after),
                  to = whole_minute(span.to, Minute::before);
    return from < to ? clocks(from, to, zone) : "less than 1 min";
}

std::string span_outward(const study::Span& span, const site::Zone& zone) {
    return clocks(whole_minute(span.from, Minute::before), whole_minute(span.to, Minute::after),
                  zone);
}

std::string by_text(Instant t, const site::Zone& zone) {
    return site::whole_minutes(whole_minute(t, Minute::before), zone);
}

std::string level_text(double lx) {
    if (!(lx > 0)) return "0 lx";
    const double unit = std::pow(10, std::floor(std::log10(lx)) - 1);
    const double value = std::round(lx / unit) * unit;
    const bool in_klx = value >= 1000;
    const double shown = in_klx ? value / 1000 : value;
    return fmt::format("{:.{}f} {}", shown, shown < 10 ? 1 : 0, in_klx ? "klx" : "lx");
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

std::string json_in_page(std::string json) {
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
