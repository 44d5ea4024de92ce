#include "minutes_by_crew.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "duration.hpp"

namespace keyhour::read {
namespace {

constexpr double longest_task_min = 1440;
const char* const by_crew_form = "accepted: minutes by crew size, { 1 = 40, 2 = 25 }";

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

}  // namespace

std::optional<double> read_minutes(Fields& fields, const toml::table& table, const std::string& key,
                                   Need need, double least, double most) {
    if (const toml::node* value = table.get(key); value && value->is_string())
        if (const auto time = read_duration(value->value<std::string>().value_or(""))) {
            const double minutes = time->count() / 60;
            if (minutes >= least && minutes <= most) {
                (void)fields.text(key, need);  // asked for, so that it is no unknown key
                return minutes;
            }
        }
    return fields.number(key, need, {least, most, " minutes"});
}

std::vector<site::TaskMinutes> read_minutes_by_crew(Fields& fields, const std::string& key,
                                                    Need need, Findings& findings) {
    std::vector<site::TaskMinutes> out;
    const toml::table* table = fields.table(key, need, "{ 1 = 40, 2 = 25 }");
    if (!table) return out;
    Fields sizes{*table, key + " of " + fields.label(), findings};
    if (table->empty()) fields.complain(key, fields.shown(key), by_crew_form);
    for (const auto& [size, value] : *table) {
        const std::string word{size.str()};
        const auto minutes = read_minutes(sizes, *table, word, Need::optional, 1, longest_task_min);
        const auto crew = crew_of(word);
        if (!crew)
            sizes.complain(word, fmt::format("\"{}\" is no crew size", word),
                           fmt::format("accepted: a number of people, 1 to {}", largest_crew));
        if (minutes && crew) out.push_back({*crew, *minutes});
    }
    std::ranges::sort(out, {}, &site::TaskMinutes::crew);
    for (std::size_t i = 0; i + 1 < out.size(); ++i) {
        if (out[i].crew == out[i + 1].crew)
            fields.complain(key, fmt::format("crew size {} stands twice", out[i].crew),
                            by_crew_form);
        else if (out[i + 1].minutes > out[i].minutes)
            fields.complain(
                key, fmt::format("{} people take longer than {}", out[i + 1].crew, out[i].crew),
                "more people take as long or less");
    }
    return out;
}

}  // namespace keyhour::read
