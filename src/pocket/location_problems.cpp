#include "location_problems.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace keyhour::pocket {
namespace {

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view blanks = " \t\r";
    const std::size_t first = text.find_first_not_of(blanks);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

/// Without quotes.
std::string_view bare(std::string_view word) {
    word = trimmed(word);
    if (word.size() >= 2 && (word.front() == '"' || word.front() == '\'') &&
        word.back() == word.front())
        return word.substr(1, word.size() - 2);
    return word;
}

/// "window" of "[[window]]" or "[window]"; empty if the line opens no table.
std::string_view table_of(std::string_view line) {
    line = trimmed(line);
    if (!line.starts_with('[')) return {};
    const std::size_t depth = line.starts_with("[[") ? 2 : 1;
    return trimmed(line.substr(depth, std::min(line.find(']'), line.size()) - depth));
}

std::string_view key_of(std::string_view line) {
    const std::size_t equals = line.find('=');
    return equals == std::string_view::npos ? std::string_view{} : bare(line.substr(0, equals));
}

std::vector<std::string_view> lines_of(std::string_view text) {
    std::vector<std::string_view> lines;
    for (std::size_t at = 0; at <= text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        lines.push_back(text.substr(at, end - at));
        at = end + 1;
    }
    return lines;
}

/// The line, from 1, on which a value is the name of that file; 0 if none is.
int line_naming(const std::string& file, std::string_view toml) {
    const auto lines = lines_of(toml);
    for (std::size_t i = 0; i < lines.size() && !file.empty(); ++i)
        for (const char quote : {'"', '\''})
            if (lines[i].substr(0, lines[i].find('#')).find(quote + file + quote) !=
                std::string_view::npos)
                return static_cast<int>(i) + 1;
    return 0;
}

}  // namespace

std::string field_at(std::string_view toml, int line) {
    const auto lines = lines_of(toml);
    if (line < 1 || static_cast<std::size_t>(line) > lines.size()) return {};
    const auto at = static_cast<std::size_t>(line) - 1;
    std::size_t head = at + 1;  // one past the table's head
    while (head > 0 && table_of(lines[head - 1]).empty())
        --head;
    std::string field{head > 0 ? table_of(lines[head - 1]) : std::string_view{}};
    for (std::size_t i = head; i < lines.size() && head > 0 && table_of(lines[i]).empty(); ++i) {
        if (key_of(lines[i]) != "name" || !trimmed(lines[head - 1]).starts_with("[[")) continue;
        const std::string_view value = lines[i].substr(lines[i].find('=') + 1);
        field += '.';
        field += bare(value.substr(0, value.find('#')));
        break;
    }
    if (table_of(lines[at]).empty())
        if (const std::string_view key = key_of(lines[at]); !key.empty()) {
            if (!field.empty()) field += '.';
            field += key;
        }
    return field;
}

Problems problems_of(const std::vector<read::Problem>& found, const std::string& name,
                     std::string_view toml) {
    Problems out;
    for (const read::Problem& problem : found) {
        // What another file says wrong is told where the location names that file.
        if (const int line = problem.file == name ? 0 : line_naming(problem.file, toml); line > 0) {
            const std::string at = problem.line > 0 ? fmt::format(", line {}", problem.line) : "";
            out.push_back({line, 0, field_at(toml, line),
                           fmt::format("{}{}: {}", problem.file, at, problem.message())});
            continue;
        }
        out.push_back(
            {problem.line, problem.column, field_at(toml, problem.line), problem.message()});
    }
    return out;
}

}  // namespace keyhour::pocket
