#include "recce_report.hpp"

#include <fmt/format.h>
#include <fmt/ostream.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <ostream>

#include "key_answer.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/doubts.hpp"
#include "room_options.hpp"
#include "tell/cautions.hpp"
#include "tell/doubt_documents.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

using study::Input;

/// Enough to rank by.
constexpr study::EnsembleSettings recce_ensemble{32, 1, study::whole_doubt};
/// Steps of less effect wait until the others are done.
constexpr double share_told_from = 0.01;

std::string window_table(const room::Room& room, std::size_t window) {
    return fmt::format("[[window]] \"{}\"", room.windows[window].name);
}

std::string mark_table(const room::Room& room, std::size_t mark) {
    return fmt::format("[[mark]] \"{}\"", room.marks[mark].name);
}

SheetLine bearing_line(const room::Room& room) {
    return {"[room]",
            fmt::format("bearing = {{ wall = \"{}\", faces = ____, north = \"true\", within_deg = "
                        "____ }}",
                        room.walls[room.bearing.wall]),
            "best by a timed shadow of a plumb line; else two points on a map; a compass 5 m off "
            "steel, three times"};
}

SheetLine skyline_line() {
    return {"[site]", "horizon = { survey = [[____, ____], [____, ____]] }",
            "bearing and altitude of ridges and roofs, by inclinometer, at 7 to 9 bearings"};
}

/// How to measure an input, and where its figure goes.
SheetLine sheet_line(const study::InputEffect& e, const room::Room& room) {
    switch (e.input) {
        case Input::mark_place:
            return {mark_table(room, *e.mark), "at = [____, ____]",
                    "from one named corner, along both walls"};
        case Input::mark_height:
            return {mark_table(room, *e.mark), "height_m = ____",
                    "of its centre, from the floor inside"};
        case Input::left:
            return {window_table(room, *e.window), "left_m = ____",
                    "seen from inside: from the wall's left-hand corner to the near jamb"};
        case Input::width:
            return {window_table(room, *e.window), "width_m = ____",
                    "of the clear opening, without its frame"};
        case Input::sill:
            return {window_table(room, *e.window), "sill_m = ____",
                    "from the floor INSIDE to the clear opening"};
        case Input::height:
            return {window_table(room, *e.window), "height_m = ____",
                    "of the clear opening, sill to head"};
        case Input::reveal:
            return {window_table(room, *e.window), "reveal_m = ____",
                    "depth of the opening, inner face of the wall to its outer face"};
        case Input::bearing:
            return bearing_line(room);
        case Input::skyline:
            return skyline_line();
        case Input::heights_outside:
            return {"[[building]], [[tree]]", "height_m = ____",
                    "above the ground: its angle at a taped distance, and the eye's height"};
        case Input::clock:
        case Input::refraction:
            break;
    }
    return {};
}

/// Is it something that one can measure on a recce?
bool is_measurable(Input input) {
    return input != Input::clock && input != Input::refraction;
}

bool is_range(const study::InputEffect& e, const room::Room& room) {
    const auto wide = [&](const std::optional<double>& within) {
        constexpr double not_taped_m = 0.03;
        return within && *within > not_taped_m;
    };
    switch (e.input) {
        case Input::left:
            return wide(room.windows[*e.window].within.left_m);
        case Input::width:
            return wide(room.windows[*e.window].within.width_m);
        case Input::sill:
            return wide(room.windows[*e.window].within.sill_m);
        case Input::height:
            return wide(room.windows[*e.window].within.height_m);
        case Input::reveal:
            return wide(room.windows[*e.window].within.reveal_m);
        case Input::mark_height:
            return wide(room.marks[*e.mark].within.height_m);
        default:
            return false;
    }
}

std::vector<SheetLine> missing_lines(const site::Location& location) {
    const room::Room& room = *location.room;
    std::vector<SheetLine> out;
    if (room.marks.empty())
        out.push_back({"[[mark]]", "name = ____, at = [____, ____], height_m = ____",
                       "where the subject is: nothing can be ranked without it"});
    if (room.windows.empty())
        out.push_back({"[[window]]",
                       "name, wall, left_m, width_m, sill_m, height_m, reveal_m = ____",
                       "each opening; what is not taped yet as a range: reveal_m = [0.2, 0.4]"});
    if (room.cameras.empty())
        out.push_back({"[[camera]]",
                       "name = ____, at = [____, ____], height_m = ____, aims_at = "
                       "____",
                       "without it key angle and frame are not judged"});
    if (location.site.horizon.is_level()) out.push_back(skyline_line());
    if (room.buildings.empty() && location.trees.empty())
        out.push_back({"[[building]]",
                       "name = ____, footprint = [[____, ____], ...], height_m = "
                       "____",
                       "what stands opposite; none is in the file"});
    if (room.bearing.magnetic) out.push_back(bearing_line(room));
    return out;
}

/// Of this many rooms within the doubts, how many have a clean key on the dates?
constexpr int rooms_tried = 20;

int rooms_with_key(const RoomQuestion& q, const study::KeySettings& wanted) {
    const study::ScrambledSobol point{recce_ensemble.seed};
    int found = 0;
    for (int i = 0; i < rooms_tried; ++i) {
        const study::Draw draw{point(static_cast<std::uint32_t>(i)), study::whole_doubt};
        const bool any = std::ranges::any_of(q.seasons->stretches(), [&](const auto& season) {
            const site::Location there = study::moved(season->location, draw);
            const study::RoomStudy room{there, season->study.path().shared()};
            return !study::clean_key(room, q.start_of(season->season.first),
                                     q.end_of(season->season.last), wanted)
                        .empty();
        });
        if (any) ++found;
    }
    return found;
}

/// What the file gives as wide ranges, where nothing can be ranked.
std::vector<RecceStep> unmeasured(const room::Room& room) {
    std::vector<RecceStep> out;
    const auto add = [&](Input input, std::optional<std::size_t> mark,
                         std::optional<std::size_t> window, const std::optional<double>& within) {
        study::InputEffect effect;
        effect.input = input;
        effect.mark = mark;
        effect.window = window;
        effect.within = within.value_or(0);
        if (is_range(effect, room)) out.push_back({effect, sheet_line(effect, room), true});
    };
    for (std::size_t w = 0; w < room.windows.size(); ++w) {
        const room::WindowDoubt& d = room.windows[w].within;
        add(Input::sill, std::nullopt, w, d.sill_m);
        add(Input::height, std::nullopt, w, d.height_m);
        add(Input::reveal, std::nullopt, w, d.reveal_m);
        add(Input::left, std::nullopt, w, d.left_m);
        add(Input::width, std::nullopt, w, d.width_m);
    }
    for (std::size_t m = 0; m < room.marks.size(); ++m)
        add(Input::mark_height, m, std::nullopt, room.marks[m].within.height_m);
    return out;
}

RecceReport empty_report(const site::Location& location, const DateRange& dates) {
    RecceReport report;
    report.room = *location.room;
    report.first = dates.first;
    report.last = dates.last;
    report.missing = missing_lines(location);
    return report;
}

}  // namespace

Answer<RecceReport> recce_report(const site::Location& location, const std::string& path,
                                 const DateOptions& dates, date::year year, Names names) {
    RoomOptions options;
    options.location = path;
    DateOptions asked_dates = dates;
    if (dates.date.empty() && dates.from.empty() && dates.to.empty()) {
        asked_dates.from = site::iso_date(year / 1 / 1);
        asked_dates.to = site::iso_date(year / 12 / 31);
    }
    const auto range = asked_dates.read(location.site.zone, now());
    if (!range) return tl::unexpected{range.error()};
    if (!location.room) return data_failure(path + ": has no [room]; a recce's sheet needs one");
    RecceReport report = empty_report(location, *range);
    if (report.room.marks.empty() || report.room.windows.empty()) return report;
    const auto asked = RoomQuestion::ask(options, asked_dates, names);
    if (!asked) return tl::unexpected{asked.error()};
    const RoomQuestion& q = **asked;
    const study::KeySettings wanted;
    SunAnswer answer = ask_sun(q, wanted);
    report.intervals = answer.intervals.size();
    if (answer.intervals.empty()) {
        report.rooms_with_key = rooms_with_key(q, wanted);
        report.steps = unmeasured(report.room);
        return report;
    }
    add_doubts(q, wanted, recce_ensemble, answer.intervals.size(), answer);
    add_why(q, wanted, recce_ensemble, answer);
    const double n = static_cast<double>(report.intervals);
    for (std::size_t i = 0; i < report.intervals; ++i) {
        report.hold += answer.intervals[i].hold() / n;
        report.hold_90 += answer.doubts[i].hold_90 / n;
    }
    for (const study::InputEffect& effect : answer.why)
        if (is_measurable(effect.input))
            report.steps.push_back(
                {effect, sheet_line(effect, report.room), is_range(effect, report.room)});
    return report;
}

namespace {

std::string dates_in_words(const RecceReport& report) {
    if (report.first == report.last) return "on " + site::date_in_words(report.first);
    return fmt::format("from {} to {}", site::date_in_words(report.first),
                       site::date_in_words(report.last));
}

void print_note(const SheetLine& note, std::ostream& out) {
    fmt::print(out, "     {}\n", note.table);
    print_wrapped(out, note.line, 7, 9);
}

void print_step(std::size_t number, const RecceStep& step, const room::Room& room,
                std::ostream& out) {
    print_wrapped(
        out,
        fmt::format(
            "{}. {}{}, {} to {} either way{}: {}", number,
            step.effect.intervals > 0 ? fmt::format("{:.0f} %  ", 100 * step.effect.share) : "",
            tell::words(step.effect, room), step.is_range ? "NOT MEASURED YET, known" : "now known",
            tell::within_words(step.effect),
            step.effect.kept_90_if_known > step.effect.kept_90 + Seconds{60}
                ? fmt::format(" (kept in 9 of 10 cases {}, then {})",
                              in_minutes(step.effect.kept_90),
                              in_minutes(step.effect.kept_90_if_known))
                : "",
            step.note.how),
        1, 5);
    print_note(step.note, out);
}

}  // namespace

void print(const RecceReport& report, std::ostream& out) {
    out << "\nwhat to measure next\n";
    if (report.intervals == 0) {
        print_wrapped(out,
                      report.room.marks.empty() ? "there is no [[mark]] yet: nothing to rank"
                      : report.room.windows.empty()
                          ? "there is no [[window]] yet: nothing to rank"
                          : "no clean key " + dates_in_words(report) +
                                fmt::format(", at the stated figures or another bearing: nothing "
                                            "to rank; \"keyhour key\" says why. Of {} rooms "
                                            "within the doubts {} have one.",
                                            rooms_tried, report.rooms_with_key),
                      2, 2);
    } else {
        print_wrapped(
            out,
            fmt::format("by the part of the doubt that would go with it, {}: {} interval{}, on "
                        "average {}, in 9 of 10 cases a hold of {} or more. Kept: how much of the "
                        "stated interval holds too",
                        dates_in_words(report), report.intervals, report.intervals == 1 ? "" : "s",
                        in_minutes(report.hold), in_minutes(report.hold_90)),
            2, 2);
    }
    std::size_t rest = 0;
    for (std::size_t i = 0; i < report.steps.size(); ++i) {
        if (report.intervals == 0 || report.steps[i].effect.share >= share_told_from)
            print_step(i + 1, report.steps[i], report.room, out);
        else
            ++rest;
    }
    if (rest > 0)
        fmt::print(out, "  {} other figure{}: less than 1 % each, good enough\n", rest,
                   rest == 1 ? "" : "s");
    if (!report.missing.empty()) out << "\nnot in the file yet\n";
    for (const SheetLine& line : report.missing) {
        print_wrapped(out, line.how, 2, 4);
        print_note(line, out);
    }
    print_wrapped(out,
                  "A figure that can't be had yet: a range, as in reveal_m = [0.2, 0.4]. One that "
                  "was taped badly: within_m = 0.05 in its table. The file has no place for, but "
                  "the recce needs: ground and level outside the key window, sockets and breakers, "
                  "smoke detectors and who may isolate them, a minute of silence.",
                  0, 0);
    print_wrapped(out, tell::sun_caution, 0, 0);
}

tell::Json json_of(const RecceReport& report) {
    constexpr int minute_decimals = 3;
    const auto minutes = [](Seconds s) { return tell::rounded(s.count() / 60, minute_decimals); };
    const auto note = [](tell::Json& j, const SheetLine& line) {
        j["table"] = line.table;
        j["line"] = line.line;
        j["how"] = line.how;
    };
    tell::Json j;
    j["first_date"] = site::iso_date(report.first);
    j["last_date"] = site::iso_date(report.last);
    j["intervals"] = report.intervals;
    j["hold_min"] = minutes(report.hold);
    j["hold_90_min"] = minutes(report.hold_90);
    j["share_with_key"] =
        report.intervals > 0 ? 1.0 : tell::rounded(1.0 * report.rooms_with_key / rooms_tried);
    j["measure"] = tell::Json::array();
    for (const RecceStep& step : report.steps) {
        tell::Json s = tell::json_of(step.effect, report.room);
        s["measured"] = !step.is_range;
        note(s, step.note);
        j["measure"].push_back(std::move(s));
    }
    j["missing"] = tell::Json::array();
    for (const SheetLine& line : report.missing) {
        note(j["missing"].emplace_back(), line);
    }
    return j;
}

}  // namespace keyhour::cli
