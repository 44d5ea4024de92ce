#include "words/clock.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "keyhour/site/dates.hpp"
#include "keyhour/study/day.hpp"

namespace keyhour::words {
namespace {

constexpr double minute_s = 60;

}  // namespace

std::string in_minutes(Seconds length) {
    const long minutes = std::lround(length.count() / minute_s);
    if (minutes < 60) return fmt::format("{} min", minutes);
    return fmt::format("{} h {:02} min", minutes / 60, minutes % 60);
}

std::string at_least(Seconds length) {
    return in_minutes(Seconds{minute_s * std::floor(length.count() / minute_s)});
}

std::string clock_span(Instant from, Instant to, const site::Zone& zone) {
    // An end at midnight belongs to the next date on the clock, but closes this one.
    const Instant just_before = to - Seconds{0.001};
    std::string text = fmt::format(
        "{} to {}", site::whole_minutes(from, zone),
        to == zone.start_of(site::local_date(to, zone)) ? "24:00" : site::whole_minutes(to, zone));
    const auto last = site::local_date(just_before, zone);
    if (last != site::local_date(from, zone)) text += " on " + short_date(last);
    return text;
}

namespace {

std::string with_length(Instant from, Instant to, const site::Zone& zone) {
    return fmt::format("{} ({})", clock_span(from, to, zone), in_minutes(to - from));
}

}  // namespace

Instant nearest_minute(Instant t) {
    return Instant::from_unix_s(std::round(t.unix_s() / minute_s) * minute_s);
}

Instant minute_before(Instant t) {
    return Instant::from_unix_s(std::floor(t.unix_s() / minute_s) * minute_s);
}

Instant minute_after(Instant t) {
    return Instant::from_unix_s(std::ceil(t.unix_s() / minute_s) * minute_s);
}

Instant event_minute(study::DayEventKind kind, Instant t) {
    switch (kind) {
        case study::DayEventKind::first_sun:
            return minute_after(t);
        case study::DayEventKind::last_sun:
            return minute_before(t);
        default:
            return nearest_minute(t);
    }
}

Seconds clock_length(const study::Span& span) {
    return nearest_minute(span.to) - nearest_minute(span.from);
}

study::Span held_minutes(const study::Span& span) {
    const Instant from = minute_after(span.from);
    return {from, std::max(from, minute_before(span.to)), span.runs_at_start, span.runs_at_end};
}

Seconds promised_length(const study::Span& span) {
    return held_minutes(span).length();
}

Seconds covered_length(const study::Span& span) {
    return minute_after(span.to) - minute_before(span.from);
}

std::string minute_down(Instant t, const site::Zone& zone) {
    return site::whole_minutes(minute_before(t), zone);
}

std::string minute_up(Instant t, const site::Zone& zone) {
    return site::whole_minutes(minute_after(t), zone);
}

std::string span_in_words(const study::Span& span, const site::Zone& zone) {
    return with_length(nearest_minute(span.from), nearest_minute(span.to), zone);
}

std::string span_outward(const study::Span& span, const site::Zone& zone) {
    return with_length(minute_before(span.from), minute_after(span.to), zone);
}

std::string span_inward(const study::Span& span, const site::Zone& zone) {
    const Instant from = minute_after(span.from), to = minute_before(span.to);
    return from < to ? with_length(from, to, zone) : std::string{"less than 1 min"};
}

std::string clock_nearest(const study::Span& span, const site::Zone& zone) {
    return clock_span(nearest_minute(span.from), nearest_minute(span.to), zone);
}

std::string clock_outward(const study::Span& span, const site::Zone& zone) {
    return clock_span(minute_before(span.from), minute_after(span.to), zone);
}

std::string clock_inward(const study::Span& span, const site::Zone& zone) {
    const Instant from = minute_after(span.from), to = minute_before(span.to);
    return from < to ? clock_span(from, to, zone) : std::string{"less than 1 min"};
}

std::string offset_at(Instant t, const site::Zone& zone) {
    return site::utc_offset(zone.at(t).utc_offset);
}

std::string offsets_over(Instant from, Instant to, const site::Zone& zone) {
    const std::string first = offset_at(from, zone), last = offset_at(to, zone);
    return first == last ? first : first + ", then " + last;
}

std::string row_date(site::LocalDate date) {
    return site::date_in_words(date).substr(0, 2) + ' ' + site::iso_date(date);
}

std::string in_degrees(double degrees) {
    return fmt::format("{:g} degree{}", degrees, degrees == 1 ? "" : "s");
}

std::string short_date(site::LocalDate date) {
    const std::string words = site::date_in_words(date);  // "Tuesday 10 March 2026"
    const auto blank = words.find(' ');
    return words.substr(0, 3) + words.substr(blank);
}

}  // namespace keyhour::words
