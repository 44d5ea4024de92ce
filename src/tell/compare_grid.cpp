#include "compare_grid.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "batch_parts.hpp"
#include "batch_rows.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/version.hpp"
#include "words/clock.hpp"
#include "words/display_width.hpp"

namespace keyhour::tell {
namespace {

using ask::BriefDate;
using ask::BriefHold;
using ask::BriefPlace;

constexpr std::size_t page_columns = 80, name_columns = 24, cell_columns = 11;
constexpr std::size_t dates_a_grid = (page_columns - name_columns) / cell_columns;

long hold_minutes(const BriefHold& hold) {
    return std::lround(words::promised_length(hold.span).count() / 60);
}

long sure_minutes(const BriefHold& hold) {
    return std::lround(std::floor(hold.sure_length().count() / 60));
}

/// To a number of columns; what does not fit ends in "..".
std::string fitted(const std::string& text, std::size_t width) {
    std::string out;
    std::size_t used = 0;
    const bool fits = words::columns(text) <= width;
    const std::size_t room = fits ? width : width - 2;
    for (const char c : text) {
        if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U && ++used > room) break;
        out += c;
    }
    if (!fits) out += "..";
    return out + std::string(width - std::min(width, fits ? words::columns(out) : width), ' ');
}

/// "UTC+00:00" at noon of each date shown.
std::vector<std::string> offsets(const BriefPlace& place, std::size_t from, std::size_t to) {
    std::vector<std::string> out;
    for (std::size_t i = from; i < to; ++i)
        out.push_back(words::offset_at(place.zone.start_of(place.dates[i].date) + Seconds{43200},
                                       place.zone));
    return out;
}

/// Without its blanks at the end; nothing of an empty one.
void add_line(std::vector<std::string>& lines, std::string line) {
    line.erase(line.find_last_not_of(' ') + 1);
    if (!line.empty()) lines.push_back(std::move(line));
}

void add_place(std::vector<std::string>& lines, const BriefPlace& place, std::size_t from,
               std::size_t to) {
    std::string upper = fitted(place_name(place.location, place.source), name_columns - 1) + ' ';
    const auto offset = offsets(place, from, to);
    const bool is_one = std::ranges::count(offset, offset.front()) == std::ssize(offset);
    std::string lower = fitted("  " + (is_one ? offset.front() : ""), name_columns);
    std::string clocks = is_one ? "" : fitted("  clocks: UTC", name_columns);
    for (std::size_t i = from; i < to; ++i) {
        const BriefHold* best = place.dates[i].best();
        upper += fitted(best ? fmt::format("{:>3}  {}", hold_minutes(*best),
                                           words::minute_up(best->span.from, place.zone))
                             : "  -",
                        cell_columns);
        lower += fitted(best ? fmt::format("{:>3} any", sure_minutes(*best)) : "", cell_columns);
        if (!is_one) clocks += fitted("  " + offset[i - from].substr(3), cell_columns);
    }
    for (std::string* line : {&upper, &lower, &clocks})
        add_line(lines, std::move(*line));
}

void add_grid(std::vector<std::string>& lines, const std::vector<BriefPlace>& places,
              std::size_t from, std::size_t to) {
    std::string head(name_columns, ' ');
    for (std::size_t i = from; i < to; ++i) {
        // "Tue 10 March 2026"
        const std::string date = words::short_date(places.front().dates[i].date);
        head += fitted(date.substr(0, date.find(' ', 4) + 4), cell_columns);
    }
    add_line(lines, std::move(head));
    for (const BriefPlace& place : places)
        add_place(lines, place, from, to);
}

Json cell_of(const BriefDate& date, const site::Zone& zone) {
    Json cell;
    const BriefHold* best = date.best();
    cell["date"] = site::iso_date(date.date);
    const auto or_null = [&](auto make) { return best ? Json(make(*best)) : Json(); };
    cell["hold_min"] = best ? rounded(best->span.length().count() / 60, 5) : 0;
    cell["sure_min"] = best && best->sure ? rounded(best->sure->length().count() / 60, 5) : 0;
    cell["start_utc"] = or_null([](const BriefHold& h) { return site::iso_utc(h.span.from, 3); });
    cell["end_utc"] = or_null([](const BriefHold& h) { return site::iso_utc(h.span.to, 3); });
    cell["start_local"] =
        or_null([&](const BriefHold& h) { return site::iso_local(h.span.from, zone, 3); });
    cell["end_local"] =
        or_null([&](const BriefHold& h) { return site::iso_local(h.span.to, zone, 3); });
    cell["mark"] = or_null([](const BriefHold& h) { return h.mark; });
    cell["window"] = or_null([](const BriefHold& h) { return h.window; });
    cell["why_not"] = best ? Json() : Json(date.why_not);
    return cell;
}

}  // namespace

Paragraph compare_head(Compared what) {
    return {what == Compared::locks
                ? "longest span without sun through the key window: minutes, local time of its "
                  "start; minutes of it at any bearing"
                : "best hold: minutes, local time of its start; minutes of it at any bearing",
            0, 0};
}

std::vector<std::string> compare_lines(const ask::Comparison& comparison) {
    std::vector<std::string> lines;
    const std::size_t dates = comparison.places.front().dates.size();
    for (std::size_t from = 0; from < dates; from += dates_a_grid) {
        lines.emplace_back();
        add_grid(lines, comparison.places, from, std::min(from + dates_a_grid, dates));
    }
    lines.emplace_back();
    return lines;
}

Paragraphs compare_foot(const ask::Comparison& comparison, Compared what) {
    Paragraphs out;
    if (!comparison.surest) {
        out.push_back({fmt::format("none of the rooms has such a {} on any of the dates",
                                   what == Compared::locks ? "span" : "hold"),
                       0, 0});
    } else {
        const BriefPlace& place = comparison.surest_place();
        const BriefDate& date = comparison.surest_date();
        const BriefHold& hold = *date.best();
        out.push_back(
            {fmt::format("longest at any bearing: {}, {}, {} ({}), {} on {}",
                         place_name(place.location, place.source), words::short_date(date.date),
                         words::clock_inward(hold.span, place.zone),
                         words::offset_at(hold.span.from, place.zone), hold.window, hold.mark),
             0, 4});
    }
    out.push_back(
        {"-: none. Any: at any bearing within the doubt that the room's file states.", 0, 0});
    return out;
}

Json compare_json(const ask::Comparison& comparison) {
    Json document;
    document["keyhour"] = version();
    document["question"] = "compare";
    document["rooms"] = Json::array();
    for (const BriefPlace& place : comparison.places) {
        Json room;
        room["location"] = place.location;
        room["source"] = place.source;
        room["dates"] = Json::array();
        for (const BriefDate& date : place.dates)
            room["dates"].push_back(cell_of(date, place.zone));
        document["rooms"].push_back(std::move(room));
    }
    return document;
}

std::string compare_csv(const ask::Comparison& comparison, bool with_head) {
    std::string out;
    if (with_head) {
        CsvRow names;
        names.text("location").text("source");
        for (const BriefDate& date : comparison.places.front().dates)
            for (const char* name : {"hold_min", "start_local", "sure_min"})
                names.text(site::iso_date(date.date) + ' ' + name);
        out += names.line();
    }
    for (const BriefPlace& place : comparison.places) {
        CsvRow record;
        record.text(place.location).text(place.source);
        for (const BriefDate& date : place.dates) {
            if (const BriefHold* best = date.best())
                record.minutes(best->span.length())
                    .local(best->span.from, place.zone)
                    .minutes(best->sure_length());
            else
                record.minutes(Seconds{0}).none().minutes(Seconds{0});
        }
        out += record.line();
    }
    return out;
}

}  // namespace keyhour::tell
