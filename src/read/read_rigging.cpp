#include "read_rigging.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "duration.hpp"
#include "keyhour/site/dates.hpp"

namespace keyhour::read {
namespace {

constexpr int largest_crew = 50;
constexpr double longest_task_min = 1440;
constexpr LengthRule overlap_rule{0, 2, false, 0.6};
const char* const minutes_form = "accepted: minutes by crew size, { 1 = 40, 2 = 25 }";

/// The size of a crew from a key: digits alone, 1 to 50.
std::optional<int> crew_of(std::string_view key) {
    if (key.empty() || key.size() > 2 || key.find_first_not_of("0123456789") != key.npos)
        return std::nullopt;
    int crew = 0;
    for (const char c : key)
        crew = 10 * crew + (c - '0');
    if (crew < 1 || crew > largest_crew) return std::nullopt;
    return crew;
}

/// 90, or "1 h 30 min".
std::optional<double> typed_minutes(Fields& fields, const std::string& key,
                                    const toml::node& value) {
    if (const auto text = value.value<std::string>())
        if (const auto time = read_duration(*text)) {
            const double minutes = time->count() / 60;
            if (minutes >= 1 && minutes <= longest_task_min) return minutes;
        }
    return fields.number(key, Need::optional, {1, longest_task_min, " minutes"});
}

std::vector<site::TaskMinutes> read_minutes(Fields& task, Findings& findings) {
    std::vector<site::TaskMinutes> out;
    const toml::table* table = task.table("minutes", Need::required, "{ 1 = 40, 2 = 25 }");
    if (!table) return out;
    Fields fields{*table, "minutes of " + task.label(), findings};
    if (table->empty()) task.complain("minutes", task.shown("minutes"), minutes_form);
    for (const auto& [key, value] : *table) {
        const std::string word{key.str()};
        const auto minutes = typed_minutes(fields, word, value);
        const auto crew = crew_of(word);
        if (!crew)
            fields.complain(word, fmt::format("\"{}\" is no crew size", word),
                            fmt::format("accepted: a number of people, 1 to {}", largest_crew));
        if (minutes && crew) out.push_back({*crew, *minutes});
    }
    std::ranges::sort(out, {}, &site::TaskMinutes::crew);
    for (std::size_t i = 0; i + 1 < out.size(); ++i) {
        if (out[i].crew == out[i + 1].crew)
            task.complain("minutes", fmt::format("crew size {} stands twice", out[i].crew),
                          minutes_form);
        else if (out[i + 1].minutes > out[i].minutes)
            task.complain(
                "minutes",
                fmt::format("{} people take longer than {}", out[i + 1].crew, out[i].crew),
                "more people take as long or less");
    }
    return out;
}

}  // namespace

site::Rigging read_rigging_tables(Fields& root, Findings& findings) {
    site::Rigging rigging;
    if (const auto* table = root.table("rigging", Need::optional, "crew = 2, call = \"08:00\"")) {
        Fields fields{*table, "[rigging]", findings};
        rigging.crew = fields.whole("crew", Need::optional, 1, largest_crew);
        if (const auto text = fields.text("call", Need::optional, "08:00")) {
            const auto time = site::read_time_of_day(*text);
            if (time)
                rigging.call = *time;
            else
                fields.complain("call", time.error());
        }
        rigging.overlap_m =
            fields.length("overlap_m", Need::optional, overlap_rule).value_or(rigging.overlap_m);
        fields.refuse_unknown();
    }
    std::vector<std::string> names;
    for (const toml::table* table : root.tables("task")) {
        Fields fields{*table, "[[task]]", findings};
        site::Task task;
        task.name = fields.name(Need::required).value_or("");
        if (!task.name.empty() && std::ranges::find(names, task.name) != names.end())
            fields.complain("name", fmt::format("a second task is called \"{}\"", task.name),
                            "each needs its own name");
        names.push_back(task.name);
        task.by_crew = read_minutes(fields, findings);
        fields.refuse_unknown();
        rigging.tasks.push_back(std::move(task));
    }
    return rigging;
}

}  // namespace keyhour::read
