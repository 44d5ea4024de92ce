#include "text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <ostream>

#include "display_width.hpp"
#include "keyhour/site/dates.hpp"
#include "terminal.hpp"

namespace keyhour::cli {
namespace {

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/// Do two words of a text belong on one line? "3.7 cm", "1 h", "10 March".
bool stay_together(std::string_view word, std::string_view next) {
    if (word.empty() || next.empty() || !is_digit(word.back())) return false;
    if (next.front() >= 'A' && next.front() <= 'Z') return true;
    const std::string_view unit = next.substr(0, next.find_first_of(",;.:)"));
    for (const std::string_view known : {"cm", "m", "m2", "min", "h", "%", "degrees", "cm/min"})
        if (unit == known) return true;
    return false;
}

/// The end of the word, or of the words that stay together, which begins at `at`.
std::size_t end_of_words(std::string_view text, std::size_t at) {
    for (;;) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        const std::size_t next_end = std::min(text.find(' ', end + 1), text.size());
        if (end == text.size() ||
            !stay_together(text.substr(at, end - at), text.substr(end + 1, next_end - end - 1)))
            return end;
        at = end + 1;
    }
}

}  // namespace

std::size_t columns(std::string_view text) {
    const auto is_ascii = [](char c) { return static_cast<unsigned char>(c) < 0x80; };
    if (std::ranges::all_of(text, is_ascii)) return text.size();
    std::size_t n = 0;
    for (const Glyph& g : glyphs(text))
        n += g.columns;
    return n;
}

void print_wrapped(std::ostream& out, std::string_view text, std::size_t indent,
                   std::size_t indent_after) {
    // The deep indents of a table leave a narrow terminal no room: there it breaks the lines
    // itself.
    constexpr std::size_t least_room = 24;
    const std::size_t own = line_columns(out);
    const std::size_t width = indent_after + least_room <= own ? own : text_width;
    std::size_t at = 0;
    std::string line(indent, ' ');
    bool empty = true;
    const auto end_line = [&] {
        while (!line.empty() && line.back() == ' ')
            line.pop_back();
        out << line << '\n';
        line.assign(indent_after, ' ');
        empty = true;
    };
    while (at < text.size()) {
        const std::size_t end = end_of_words(text, at);
        std::string_view word = text.substr(at, end - at);
        at = end + 1;
        if (word.empty()) {
            if (!empty) line += ' ';
            continue;
        }
        if (!empty && columns(line) + 1 + columns(word) > width) end_line();
        if (!empty) line += ' ';
        while (columns(line) < width && columns(line) + columns(word) > width) {
            const std::string_view part = first_columns(word, width - columns(line));
            if (part.empty()) break;
            line += part;
            word.remove_prefix(part.size());
            end_line();
        }
        line += word;
        empty = false;
    }
    out << line << '\n';
}

std::string in_minutes(Seconds length) {
    const long minutes = std::lround(length.count() / 60);
    if (minutes < 60) return fmt::format("{} min", minutes);
    return fmt::format("{} h {:02} min", minutes / 60, minutes % 60);
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

constexpr double minute_s = 60;

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

std::string minute_down(Instant t, const site::Zone& zone) {
    return site::whole_minutes(minute_before(t), zone);
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

}  // namespace keyhour::cli
