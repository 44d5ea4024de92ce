#include <cmath>
#include <optional>

#include "answer_facts_parts.hpp"
#include "keyhour/site/dates.hpp"
#include "words/clock.hpp"

namespace keyhour::tell {
namespace {

std::string label_of(const Json& answer, const Json& day, const std::string& label) {
    return answer.contains("days") ? word_of(day["date"]) + " " + label : label;
}

/// "astronomical_dawn" as people write it.
std::string in_words(std::string kind) {
    for (char& c : kind)
        if (c == '_') c = ' ';
    return kind;
}

/// Light that is promised begins after its instant and ends before it, as in the answer itself.
Rounded rounding_of(const std::string& kind) {
    if (kind == "first_sun") return Rounded::up;
    if (kind == "last_sun") return Rounded::down;
    return Rounded::nearest;
}

/// Between the minutes of rise and set, as day has it.
std::string day_length_of(const Json& day) {
    std::optional<Instant> rise, set;
    for (const Json& event : day["events"]) {
        const auto at = site::read_utc(word_of(event["utc"]));
        if (at && event["kind"] == "rise") rise = *at;
        if (at && event["kind"] == "set") set = *at;
    }
    if (!rise || !set || *set < *rise) return whole_minutes_of(day["day_length_min"]);
    return words::in_minutes(words::clock_length({*rise, *set, false, false}));
}

AnswerFacts day_facts(const Json& answer) {
    AnswerFacts out;
    for (const Json* day : days_of(answer)) {
        for (const Json& event : (*day)["events"]) {
            const std::string kind = word_of(event["kind"]);
            if (kind != "rise" && kind != "set" && kind != "first_sun" && kind != "last_sun" &&
                kind != "civil_dusk")
                continue;
            out.push_back({label_of(answer, *day, in_words(kind)),
                           clock_of(event["local"], rounding_of(kind))});
        }
        if ((*day)["state"].is_string())
            out.push_back({label_of(answer, *day, "the sun"), in_words(word_of((*day)["state"]))});
        out.push_back({label_of(answer, *day, "day length"), day_length_of(*day)});
        for (const Json& late : (*day)["late_light"]["intervals"])
            out.push_back({label_of(answer, *day,
                                    late.value("evening", false) ? "late light, evening"
                                                                 : "late light, morning"),
                           held_between(late["start_local"], late["end_local"])});
    }
    return out;
}

std::string spans_of(const Json& list) {
    std::string out;
    for (const Json& span : list)
        out += fmt::format("{}{}", out.empty() ? "" : ", ",
                           held_between(span["start_local"], span["end_local"]));
    return out.empty() ? "none" : out;
}

/// The longest slack of the spans wanted.
const Json* roomiest(const Json& wanted) {
    const Json* best = nullptr;
    for (const Json& span : wanted)
        if (!best || span["slack_min"].get<double>() > (*best)["slack_min"].get<double>())
            best = &span;
    return best;
}

/// What is left of the promised light beside the shot.
std::string slack_of(const Json& wanted) {
    const auto from = site::read_utc(word_of(wanted["start_utc"])),
               to = site::read_utc(word_of(wanted["end_utc"]));
    if (!from || !to || !wanted["slack_min"].is_number()) return "-";
    const Seconds shot = *to - *from - Seconds{60 * wanted["slack_min"].get<double>()};
    return words::at_least(words::promised_length({*from, *to, false, false}) -
                           Seconds{std::round(shot.count())});
}

AnswerFacts exterior_facts(const Json& answer) {
    AnswerFacts out;
    for (const Json* day : days_of(answer))
        for (const Json& spot : (*day)["spots"]) {
            const auto add = [&](const std::string& what, std::string text) {
                out.push_back(
                    {label_of(answer, *day, word_of(spot["spot"]) + ": " + what), std::move(text)});
            };
            add("wanted", spans_of(spot["wanted"]));
            if (const Json* best = roomiest(spot["wanted"])) {
                add("begin by", clock_of((*best)["latest_start_local"], Rounded::down));
                add("slack", slack_of(*best));
            }
            add("direct", spans_of(spot["direct"]));
        }
    return out;
}

AnswerFacts check_facts(const Json& answer) {
    AnswerFacts out;
    const auto room = answer.find("room");
    if (room != answer.end() && room->is_object()) {
        out.push_back({"floor", fmt::format("{:.1f} m2", (*room)["floor_m2"].get<double>())});
        for (const Json& wall : (*room)["walls"])
            out.push_back({word_of(wall["wall"]) + " faces",
                           fmt::format("{}, {:.1f} true", word_of(wall["faces"]),
                                       wall["faces_true_deg"].get<double>())});
        for (const Json& window : (*room)["windows"]) {
            std::string hours;
            for (const Json& sun : window["sun"])
                hours += fmt::format("{}{:.1f} h", hours.empty() ? "" : ", ",
                                     sun["sun_h"].get<double>());
            out.push_back({word_of(window["name"]) + ": sun a day", hours});
        }
    }
    out.push_back({"to check", names_of(answer["questions"], nullptr)});
    return out;
}

}  // namespace

AnswerFacts site_facts(const std::string& command, const Json& answer) {
    if (command == "day") return day_facts(answer);
    if (command == "exterior") return exterior_facts(answer);
    return check_facts(answer);
}

}  // namespace keyhour::tell
