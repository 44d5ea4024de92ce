#include "text.hpp"

#include <fmt/format.h>

#include <cmath>
#include <ostream>

#include "keyhour/site/dates.hpp"

namespace keyhour::cli {

std::size_t columns(std::string_view text) {
    std::size_t n = 0;
    for (const char c : text)
        if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) ++n;
    return n;
}

void print_wrapped(std::ostream& out, std::string_view text, std::size_t indent,
                   std::size_t indent_after) {
    std::size_t at = 0;
    std::string line(indent, ' ');
    bool empty = true;
    while (at < text.size()) {
        std::size_t end = text.find(' ', at);
        if (end == std::string_view::npos) end = text.size();
        const std::string_view word = text.substr(at, end - at);
        at = end + 1;
        if (word.empty()) {
            if (!empty) line += ' ';
            continue;
        }
        if (!empty && columns(line) + 1 + columns(word) > text_width) {
            while (!line.empty() && line.back() == ' ')
                line.pop_back();
            out << line << '\n';
            line.assign(indent_after, ' ');
            empty = true;
        }
        if (!empty) line += ' ';
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

std::string offset_at(Instant t, const site::Zone& zone) {
    return site::utc_offset(zone.at(t).utc_offset);
}

std::string short_date(site::LocalDate date) {
    const std::string words = site::date_in_words(date);  // "Tuesday 10 March 2026"
    const auto blank = words.find(' ');
    return words.substr(0, 3) + words.substr(blank);
}

}  // namespace keyhour::cli
