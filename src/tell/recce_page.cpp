#include "tell/recce_page.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "keyhour/site/dates.hpp"
#include "tell/cautions.hpp"
#include "tell/doubt_documents.hpp"
#include "words/clock.hpp"

namespace keyhour::tell {
namespace {

using ask::NotInFile;
using study::Input;

/// Steps of less effect wait until the others are done.
constexpr double share_told_from = 0.01;

/// One line of the form.
struct SheetLine {
    std::string table;  // of the file: [[window]] "press window"
    std::string line;   // to fill in: reveal_m = ____
    std::string how;    // it is measured
};

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
        case Input::places_outside:
            return {"[[building]], [[tree]]", "footprint = [[____, ____], ...]",
                    "from two corners of the room, along and off its wall; a tape or a laser"};
        case Input::camera_place:
            return {fmt::format("[[camera]] \"{}\"", room.cameras[*e.camera].name),
                    "at = [____, ____]", "from one named corner, along both walls"};
        case Input::floor:
            return {"[room]", "floor = [[____, ____], ...]",
                    "wall after wall, and one diagonal to check it"};
        case Input::clock:
        case Input::refraction:
            break;
    }
    return {};
}

SheetLine missing_line(NotInFile missing, const room::Room& room) {
    switch (missing) {
        case NotInFile::mark:
            return {"[[mark]]", "name = ____, at = [____, ____], height_m = ____",
                    "where the subject is: nothing can be ranked without it"};
        case NotInFile::window:
            return {"[[window]]", "name, wall, left_m, width_m, sill_m, height_m, reveal_m = ____",
                    "each opening; what is not taped yet as a range: reveal_m = [0.2, 0.4]"};
        case NotInFile::camera:
            return {"[[camera]]", "name = ____, at = [____, ____], height_m = ____, aims_at = ____",
                    "without it key angle and frame are not judged"};
        case NotInFile::skyline:
            return skyline_line();
        case NotInFile::outside:
            return {"[[building]]", "name = ____, footprint = [[____, ____], ...], height_m = ____",
                    "what stands opposite; none is in the file"};
        case NotInFile::true_bearing:
            return bearing_line(room);
    }
    return {};
}

std::string dates_in_words(const ask::DateRange& dates) {
    if (dates.first == dates.last) return "on " + site::date_in_words(dates.first);
    return fmt::format("from {} to {}", site::date_in_words(dates.first),
                       site::date_in_words(dates.last));
}

void add_note(Paragraphs& out, const SheetLine& note) {
    out.push_back({note.table, 5, 5});
    out.push_back({note.line, 7, 9});
}

std::string gain(const study::InputEffect& effect) {
    if (effect.kept_90_if_known <= effect.kept_90 + Seconds{60}) return {};
    return fmt::format(" (kept in 9 of 10 cases {}, then {})", words::in_minutes(effect.kept_90),
                       words::in_minutes(effect.kept_90_if_known));
}

void add_step(Paragraphs& out, std::size_t number, const ask::RecceStep& step,
              const room::Room& room, site::Units units) {
    const SheetLine note = sheet_line(step.effect, room);
    const std::string share =
        step.effect.intervals > 0 ? fmt::format("{:.0f} %  ", 100 * step.effect.share) : "";
    out.push_back(
        {fmt::format("{}. {}{}, {} to {} either way{}: {}", number, share, words(step.effect, room),
                     step.is_range ? "NOT MEASURED YET, known" : "now known",
                     within_words(step.effect, units), gain(step.effect), note.how),
         1, 5});
    add_note(out, note);
}

/// What the ranking rests on, or why there is none.
std::string basis(const ask::RecceAnswer& answer, const room::Room& room) {
    if (room.marks.empty()) return "there is no [[mark]] yet: nothing to rank";
    if (room.windows.empty()) return "there is no [[window]] yet: nothing to rank";
    if (answer.intervals == 0)
        return fmt::format(
            "no clean key {}, at the stated figures or another bearing: nothing to rank; "
            "\"keyhour key\" says why. Of {} rooms within the doubts {} have one.",
            dates_in_words(answer.dates), ask::RecceAnswer::rooms_tried, answer.rooms_with_key);
    return fmt::format(
        "by the part of the doubt that would go with it, {}: {} interval{}, on average {}, in 9 of "
        "10 cases a hold of {} or more. Kept: how much of the stated interval holds too",
        dates_in_words(answer.dates), answer.intervals, answer.intervals == 1 ? "" : "s",
        words::in_minutes(answer.hold), words::in_minutes(answer.hold_90));
}

void add_steps(Paragraphs& out, const ask::RecceAnswer& answer, const room::Room& room,
               site::Units units) {
    std::size_t rest = 0;
    for (std::size_t i = 0; i < answer.steps.size(); ++i) {
        if (answer.intervals == 0 || answer.steps[i].effect.share >= share_told_from)
            add_step(out, i + 1, answer.steps[i], room, units);
        else
            ++rest;
    }
    if (rest > 0)
        out.push_back({fmt::format("{} other figure{}: less than 1 % each, good enough", rest,
                                   rest == 1 ? "" : "s"),
                       2, 2});
}

void note_cells(Json& j, const SheetLine& line) {
    j["table"] = line.table;
    j["line"] = line.line;
    j["how"] = line.how;
}

}  // namespace

Paragraphs recce_page(const ask::RecceAnswer& answer, const room::Room& room, site::Units units) {
    Paragraphs out{{""}, {"what to measure next"}, {basis(answer, room), 2, 2}};
    add_steps(out, answer, room, units);
    if (!answer.missing.empty()) {
        out.push_back({""});
        out.push_back({"not in the file yet"});
    }
    for (const NotInFile missing : answer.missing) {
        const SheetLine line = missing_line(missing, room);
        out.push_back({line.how, 2, 4});
        add_note(out, line);
    }
    out.push_back({std::string{"A figure that can't be had yet: a range, as in reveal_m = "} +
                       (units == site::Units::feet
                            ? "[\"8 in\", \"16 in\"]. One that was taped badly: within_m = \"2 in\""
                            : "[0.2, 0.4]. One that was taped badly: within_m = 0.05") +
                       " in its table. The file has no place for, but the recce needs: "
                       "ground and level outside the key window, sockets and breakers, smoke "
                       "detectors and who "
                       "may isolate them, a minute of silence.",
                   0, 0});
    out.push_back({sun_caution, 0, 0});
    return out;
}

Json json_of(const ask::RecceAnswer& answer, const room::Room& room) {
    constexpr int minute_decimals = 3;
    const auto minutes = [](Seconds s) { return rounded(s.count() / 60, minute_decimals); };
    Json j;
    j["first_date"] = site::iso_date(answer.dates.first);
    j["last_date"] = site::iso_date(answer.dates.last);
    j["intervals"] = answer.intervals;
    j["hold_min"] = minutes(answer.hold);
    j["hold_90_min"] = minutes(answer.hold_90);
    j["share_with_key"] =
        answer.intervals > 0 ? 1.0
                             : rounded(1.0 * answer.rooms_with_key / ask::RecceAnswer::rooms_tried);
    j["measure"] = Json::array();
    for (const ask::RecceStep& step : answer.steps) {
        Json s = json_of(step.effect, room);
        s["measured"] = !step.is_range;
        note_cells(s, sheet_line(step.effect, room));
        j["measure"].push_back(std::move(s));
    }
    j["missing"] = Json::array();
    for (const NotInFile missing : answer.missing)
        note_cells(j["missing"].emplace_back(), missing_line(missing, room));
    return j;
}

}  // namespace keyhour::tell
