#include "strip_hours.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "keyhour/site/dates.hpp"
#include "svg.hpp"
#include "words/clock.hpp"

namespace keyhour::draw {

using study::DayEventKind;
using study::Span;

namespace {

/// How much of the night is shown before the first and after the last thing of the day.
constexpr Seconds kQuiet{1800};

}  // namespace

const study::DayEvent* event(const study::Day& day, DayEventKind kind) {
    for (const study::DayEvent& e : day.events)
        if (e.kind == kind) return &e;
    return nullptr;
}

std::pair<Instant, Instant> hours_shown(const study::DayStrip& strip) {
    Instant first = strip.to, last = strip.from;
    const auto take = [&](Instant a, Instant b) {
        first = std::min(first, a);
        last = std::max(last, b);
    };
    for (const study::DayEvent& e : strip.day.events)
        if (e.kind != DayEventKind::astronomical_dawn && e.kind != DayEventKind::astronomical_dusk)
            take(e.at, e.at);
    for (const study::WindowSun& w : strip.windows)
        for (const Span& s : w.possible)
            take(s.from, s.to);
    if (strip.planned && strip.planned->day.lock)
        take(strip.planned->day.lock->lock.from, strip.planned->day.lock->lock.to);
    for (const study::LateLight& l : strip.day.late_light)
        take(l.start, l.end);
    for (const study::SpotDay& s : strip.spots)
        for (const study::SafeStart& start : s.for_wanted)
            if (start.latest) take(*start.latest, *start.latest);
    if (first >= last) return {strip.from, strip.to};
    const auto hours = [&](Instant t) { return (t - strip.from).count() / 3600; };
    first = strip.from + Seconds{3600 * std::floor(hours(first - kQuiet))};
    last = strip.from + Seconds{3600 * std::ceil(hours(last + kQuiet))};
    return {std::max(first, strip.from), std::min(last, strip.to)};
}

std::string change_in_words(const site::ClockChange& c, bool brief) {
    const auto seconds = (c.after - c.before).count();
    const double hours = std::abs(static_cast<double>(seconds)) / 3600;
    const std::string text =
        fmt::format("clocks go {} {}", seconds < 0 ? "back" : "forward", number(hours));
    return text + (brief ? " h" : hours == 1 ? " hour on this date" : " hours on this date");
}

std::string strip_in_words(const study::DayStrip& strip, const site::Location& location) {
    const auto clock = [&](Instant t) { return site::whole_minutes(t, location.site.zone); };
    const auto name = [&](std::size_t window) { return location.room->windows[window].name; };
    std::string text = site::date_in_words(strip.date) + ".";
    for (const study::WindowSun& w : strip.windows) {
        text += fmt::format(" Sun through {}:", name(w.window));
        for (const Span& s : w.stated)
            text += fmt::format(" {} to {},", clock(s.from), clock(s.to));
        if (w.stated.empty()) text += " none,";
        text.back() = '.';
    }
    for (const study::KeyInterval& k : strip.keys)
        if (k.span)
            text += fmt::format(" Clean key through {} on {}: {}.", name(k.window),
                                location.room->marks[k.mark].name,
                                words::clock_inward(*k.span, location.site.zone));
    if (strip.planned && strip.planned->day.lock)
        text +=
            fmt::format(" Lock, lamp through {}: {}.", name(strip.planned->question.window),
                        words::clock_nearest(strip.planned->day.lock->lock, location.site.zone));
    for (const study::CoverNeed& c : strip.covers)
        text += fmt::format(" To cover: {}, {}.", name(c.window),
                            words::clock_outward(c.span, location.site.zone));
    for (const study::DayEvent& e : strip.day.events)
        text += fmt::format(" {} {}.", study::in_words(e.kind), clock(e.at));
    return text;
}

}  // namespace keyhour::draw
