#include "batch_compare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <ostream>

#include "batch_table.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/version.hpp"
#include "tell/csv.hpp"
#include "tell/document.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

constexpr std::size_t name_width = 24, cell_width = 11;
constexpr std::size_t dates_a_grid = (text_width - name_width) / cell_width;

const BriefHold* best_of(const BriefDate& date) {
    return date.holds.empty() ? nullptr : &date.holds.front();
}

long hold_minutes(const BriefHold& hold) {
    return std::lround((nearest_minute(hold.span.to) - nearest_minute(hold.span.from)).count() /
                       60);
}

long sure_minutes(const BriefHold& hold) {
    return hold.sure ? std::lround(std::floor(hold.sure->length().count() / 60)) : 0;
}

/// To a number of columns; what does not fit ends in "..".
std::string fitted(const std::string& text, std::size_t width) {
    std::string out;
    std::size_t used = 0;
    const bool fits = columns(text) <= width;
    const std::size_t room = fits ? width : width - 2;
    for (const char c : text) {
        if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U && ++used > room) break;
        out += c;
    }
    if (!fits) out += "..";
    return out + std::string(width - std::min(width, fits ? columns(out) : width), ' ');
}

/// "UTC+00:00" at noon of each date shown.
std::vector<std::string> offsets(const BriefPlace& place, std::size_t from, std::size_t to) {
    std::vector<std::string> out;
    for (std::size_t i = from; i < to; ++i)
        out.push_back(
            offset_at(place.zone.start_of(place.dates[i].date) + Seconds{43200}, place.zone));
    return out;
}

void print_grid(const std::vector<BriefPlace>& places, std::size_t from, std::size_t to,
                std::ostream& out) {
    std::string head(name_width, ' ');
    for (std::size_t i = from; i < to; ++i) {
        const std::string words = short_date(places.front().dates[i].date);  // "Tue 10 March 2026"
        head += fitted(words.substr(0, words.find(' ', 4) + 4), cell_width);
    }
    head.erase(head.find_last_not_of(' ') + 1);
    out << head << '\n';
    for (const BriefPlace& place : places) {
        std::string upper = fitted(place_name(place.location, place.source), name_width - 1) + ' ';
        const auto offset = offsets(place, from, to);
        const bool is_one = std::ranges::count(offset, offset.front()) == std::ssize(offset);
        std::string lower = fitted("  " + (is_one ? offset.front() : ""), name_width);
        std::string clocks = is_one ? "" : fitted("  clocks: UTC", name_width);
        for (std::size_t i = from; i < to; ++i) {
            const BriefHold* best = best_of(place.dates[i]);
            upper += fitted(best ? fmt::format("{:>3}  {}", hold_minutes(*best),
                                               site::whole_minutes(best->span.from, place.zone))
                                 : "  -",
                            cell_width);
            lower += fitted(best ? fmt::format("{:>3} sure", sure_minutes(*best)) : "", cell_width);
            if (!is_one) clocks += fitted("  " + offset[i - from].substr(3), cell_width);
        }
        for (std::string* line : {&upper, &lower, &clocks}) {
            line->erase(line->find_last_not_of(' ') + 1);
            if (line->empty()) continue;
            out << *line << '\n';
        }
    }
}

struct Best {
    const BriefPlace* place = nullptr;
    const BriefDate* date = nullptr;
};

Best best_of_all(const std::vector<BriefPlace>& places) {
    Best best;
    for (const BriefPlace& place : places)
        for (const BriefDate& date : place.dates) {
            const BriefHold* hold = best_of(date);
            if (hold == nullptr) continue;
            const BriefHold* other = best.date ? best_of(*best.date) : nullptr;
            const auto sure = [](const BriefHold* h) {
                return h->sure ? h->sure->length() : Seconds{0};
            };
            if (other == nullptr || sure(hold) > sure(other) ||
                (sure(hold) == sure(other) && hold->span.length() > other->span.length()))
                best = {&place, &date};
        }
    return best;
}

void print_table(const BatchQuestion& question, const std::vector<BriefPlace>& places,
                 std::ostream& out) {
    const bool is_lock = question.ask == BatchQuestion::Ask::lock;
    print_wrapped(out,
                  is_lock ? "longest span without sun through the key window: minutes, local time "
                            "of its start; minutes of it that are sure"
                          : "best hold: minutes, local time of its start; minutes of it that are "
                            "sure",
                  0, 0);
    const std::size_t dates = places.front().dates.size();
    for (std::size_t from = 0; from < dates; from += dates_a_grid) {
        out << '\n';
        print_grid(places, from, std::min(from + dates_a_grid, dates), out);
    }
    out << '\n';
    const Best best = best_of_all(places);
    if (best.place == nullptr) {
        print_wrapped(out,
                      fmt::format("none of the rooms has such a {} on any of the dates",
                                  is_lock ? "span" : "hold"),
                      0, 0);
    } else {
        const BriefHold& hold = best.date->holds.front();
        print_wrapped(
            out,
            fmt::format("surest: {}, {}, {} ({}), {} on {}",
                        place_name(best.place->location, best.place->source),
                        short_date(best.date->date),
                        clock_span(hold.span.from, hold.span.to, best.place->zone),
                        offset_at(hold.span.from, best.place->zone), hold.window, hold.mark),
            0, 4);
    }
    print_wrapped(
        out, "-: none. Sure: at every bearing within the doubt that the room's file states.", 0, 0);
}

tell::Json cell_of(const BriefDate& date, const site::Zone& zone) {
    tell::Json cell;
    const BriefHold* best = best_of(date);
    cell["date"] = site::iso_date(date.date);
    const auto or_null = [&](auto make) { return best ? tell::Json(make(*best)) : tell::Json(); };
    cell["hold_min"] = best ? tell::rounded(best->span.length().count() / 60, 5) : 0;
    cell["sure_min"] = best && best->sure ? tell::rounded(best->sure->length().count() / 60, 5) : 0;
    cell["start_utc"] = or_null([](const BriefHold& h) { return site::iso_utc(h.span.from, 3); });
    cell["end_utc"] = or_null([](const BriefHold& h) { return site::iso_utc(h.span.to, 3); });
    cell["start_local"] =
        or_null([&](const BriefHold& h) { return site::iso_local(h.span.from, zone, 3); });
    cell["end_local"] =
        or_null([&](const BriefHold& h) { return site::iso_local(h.span.to, zone, 3); });
    cell["mark"] = or_null([](const BriefHold& h) { return h.mark; });
    cell["window"] = or_null([](const BriefHold& h) { return h.window; });
    cell["why_not"] = best ? tell::Json() : tell::Json(date.why_not);
    return cell;
}

void write_json(const std::vector<BriefPlace>& places, std::ostream& out) {
    tell::Json document;
    document["keyhour"] = version();
    document["question"] = "compare";
    document["rooms"] = tell::Json::array();
    for (const BriefPlace& place : places) {
        tell::Json room;
        room["location"] = place.location;
        room["source"] = place.source;
        room["dates"] = tell::Json::array();
        for (const BriefDate& date : place.dates)
            room["dates"].push_back(cell_of(date, place.zone));
        document["rooms"].push_back(std::move(room));
    }
    tell::write(out, document);
}

void write_csv(const std::vector<BriefPlace>& places, bool with_head, std::ostream& out) {
    if (with_head) {
        out << "location,source";
        for (const BriefDate& date : places.front().dates) {
            const std::string d = site::iso_date(date.date);
            out << ',' << d << " hold_min," << d << " start_local," << d << " sure_min";
        }
        out << "\r\n";
    }
    for (const BriefPlace& place : places) {
        out << tell::csv_text(place.location) << ',' << tell::csv_text(place.source);
        for (const BriefDate& date : place.dates) {
            const BriefHold* best = best_of(date);
            if (best == nullptr) {
                out << ",0,,0";
                continue;
            }
            const double sure = best->sure ? best->sure->length().count() : 0;
            out << fmt::format(",{},{},{}", tell::rounded(best->span.length().count() / 60, 2),
                               site::iso_local(best->span.from, place.zone),
                               tell::rounded(sure / 60, 2));
        }
        out << "\r\n";
    }
}

}  // namespace

void print_compare(const BatchQuestion& question, const std::vector<BriefPlace>& places,
                   std::ostream& out) {
    switch (question.form) {
        case BatchForm::table:
            return print_table(question, places, out);
        case BatchForm::json:
            return write_json(places, out);
        case BatchForm::csv:
            return write_csv(places, question.with_header, out);
    }
}

}  // namespace keyhour::cli
