#include "answer_facts.hpp"

#include <algorithm>
#include <cmath>

#include "answer_facts_parts.hpp"
#include "keyhour/site/dates.hpp"
#include "words/clock.hpp"

namespace keyhour::tell {

std::string clock_of(const Json& local, Rounded how) {
    // "2026-03-10T13:05:12.000+00:00"
    constexpr std::size_t hour_at = 11, minute_at = 14, second_at = 17;
    if (!local.is_string()) return {};
    const auto text = local.get<std::string>();
    if (text.size() < second_at + 2) return {};
    int minutes = 60 * std::stoi(text.substr(hour_at, 2)) + std::stoi(text.substr(minute_at, 2));
    const double seconds = std::stod(text.substr(second_at));
    if (how == Rounded::up && seconds > 0) ++minutes;
    if (how == Rounded::nearest && seconds >= 30) ++minutes;
    constexpr int day = 24 * 60;
    return fmt::format("{:02}:{:02}", minutes % day / 60, minutes % 60);
}

std::string held_between(const Json& from_local, const Json& to_local) {
    const std::string from = clock_of(from_local, Rounded::up);
    const std::string to = clock_of(to_local, Rounded::down);
    return from.empty() || to.empty() ? "none" : fmt::format("{} to {}", from, to);
}

std::string held_for(const Json& from_utc, const Json& to_utc) {
    const auto from = site::read_utc(word_of(from_utc)), to = site::read_utc(word_of(to_utc));
    if (!from || !to) return "-";
    return words::in_minutes(words::promised_length({*from, *to, false, false}));
}

std::string whole_minutes_of(const Json& minutes) {
    if (!minutes.is_number()) return "-";
    return words::at_least(Seconds{60 * minutes.get<double>()});
}

std::string degrees_of(const Json& pair) {
    if (!pair.is_array() || pair.size() != 2) return "-";
    const long a = std::lround(pair[0].get<double>()), b = std::lround(pair[1].get<double>());
    return a == b ? fmt::format("{}", a) : fmt::format("{} to {}", a, b);
}

std::string names_of(const Json& list, const char* member) {
    std::vector<std::string> names;
    for (const Json& entry : list) {
        const std::string name = word_of(member ? entry.value(member, Json()) : entry);
        if (std::ranges::find(names, name) == names.end()) names.push_back(name);
    }
    return names.empty() ? "none" : fmt::format("{}", fmt::join(names, ", "));
}

double number_of(const Json& object, const char* member) {
    const auto at = object.find(member);
    return at != object.end() && at->is_number() ? at->get<double>() : 0;
}

std::string word_of(const Json& value) {
    return value.is_string() ? value.get<std::string>() : "-";
}

std::vector<const Json*> days_of(const Json& answer) {
    std::vector<const Json*> out;
    if (!answer.contains("days")) return {&answer};
    for (const Json& day : answer["days"])
        out.push_back(&day);
    return out;
}

AnswerFacts answer_facts(const std::string& command, const Json& answer) {
    if (command == "plan") return plan_facts(answer);
    if (command == "day" || command == "exterior" || command == "check")
        return site_facts(command, answer);
    return room_facts(command, answer);
}

}  // namespace keyhour::tell
