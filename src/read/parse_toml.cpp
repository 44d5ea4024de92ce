#include "parse_toml.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace keyhour::read {

namespace {

constexpr int most_syntax_errors = 20;

/// The number that has a comma at this column or just before it: "1,1"; empty if none has.
std::string decimal_comma(std::string_view line, int column) {
    const auto is_digit = [&](std::size_t i) {
        return i < line.size() && line[i] >= '0' && line[i] <= '9';
    };
    std::size_t at = static_cast<std::size_t>(std::max(column, 1) - 1);
    if (at > 0 && (at >= line.size() || line[at] != ',')) --at;
    if (at == 0 || at >= line.size() || line[at] != ',' || !is_digit(at - 1) || !is_digit(at + 1))
        return {};
    std::size_t begin = at, end = at + 1;
    while (begin > 0 && is_digit(begin - 1))
        --begin;
    if (line.substr(0, begin).find_first_of("[{\"#") != std::string_view::npos) return {};
    while (is_digit(end))
        ++end;
    return std::string{line.substr(begin, end - begin)};
}

/// toml++'s sentence about a syntax error, in the words of the other complaints.
Problem syntax_problem(const SourceText& source, TextPlace at, std::string_view description) {
    const char* accepted = "accepted: key = value, with text in quotes; [table] or [[table]]";
    const std::size_t colon = description.find(": ");
    if (description.starts_with("Error while parsing") && colon != std::string_view::npos) {
        description.remove_prefix(colon + 2);
    }
    if (description.starts_with("cannot redefine")) {
        const std::size_t open = description.find('\''), close = description.rfind('\'');
        const std::string_view name =
            close > open ? description.substr(open + 1, close - open - 1) : std::string_view{};
        return source.problem({at.line, 1}, fmt::format("\"{}\" stands a second time", name),
                              "accepted: each key once in its table, each table once");
    }
    if (description.starts_with("unescaped control")) {
        return source.problem(at, "a control character stands in the text",
                              "accepted: printable text on one line");
    }
    if (description.starts_with("expected a comment or whitespace")) {
        accepted = "accepted: one value; text, and a number with its unit, stand in quotes";
    }
    if (const std::string number = decimal_comma(source.line(at.line), at.column);
        !number.empty()) {
        std::string point = number;
        point[point.find(',')] = '.';
        return source.problem(at, fmt::format("a comma in the number {}", number),
                              fmt::format("decimals stand after a point: {}", point));
    }
    return source.problem(at, fmt::format("not TOML: {}", description), accepted);
}

}  // namespace

toml::table parse_toml(SourceText& source, Findings& findings) {
    for (Problem& problem : source.lexical_problems()) {
        source.blank(source.statement(problem.line));
        findings.add(std::move(problem));
        findings.set_incomplete();
    }
    for (int round = 0; round < most_syntax_errors; ++round) {
        toml::parse_result result = toml::parse(source.text(), source.name());
        if (result) return std::move(result).table();
        const toml::parse_error& error = result.error();
        findings.set_incomplete();
        const int line = std::clamp(static_cast<int>(error.source().begin.line), 1,
                                    std::max(source.line_count(), 1));
        const int column = std::max(static_cast<int>(error.source().begin.column), 1);
        findings.add(syntax_problem(source, {line, column}, error.description()));
        source.blank(source.statement(line));
    }
    return {};
}

}  // namespace keyhour::read
