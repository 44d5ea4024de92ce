#include "parse_toml.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace keyhour::read {

namespace {

constexpr int most_syntax_errors = 20;

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
