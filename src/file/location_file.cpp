#include "keyhour/file/location_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "file_contents.hpp"
#include "json_source.hpp"
#include "parts.hpp"
#include "source_text.hpp"

namespace keyhour::file {

namespace {

constexpr int most_syntax_errors = 20;

Problem whole_file(const std::string& name, std::string found, std::string accepted) {
    return {name, 0, 0, std::move(found), std::move(accepted), {}};
}

Problem too_large(const std::string& name) {
    return whole_file(
        name, "the file is too large",
        fmt::format("a location file holds up to {} MiB", largest_location_bytes >> 20U));
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
    return source.problem(at, fmt::format("not TOML: {}", description), accepted);
}

/// The parsed file. toml++ stops at the first error; so each broken statement is noted, blanked
/// out, and the rest parsed again.
toml::table parse(SourceText& source, Findings& findings) {
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

/// The same for every form: what the tables say, checked.
Read<site::Location> location_of(const toml::table& table, Findings& findings) {
    Fields root{table, "", findings};
    site::Location location;
    (void)root.whole("format", Need::required, 1, 1);
    SurroundingFiles files;
    location.site = read_site(root, findings, location.questions, files);
    read_room(root, location, findings);
    location.spots = read_spots(root, findings);
    root.refuse_unknown();
    if (findings.count() == 0) read_files(files, location, findings);
    std::vector<Problem> problems = findings.sorted();
    if (!problems.empty()) return tl::unexpected{std::move(problems)};
    return location;
}

}  // namespace

tl::expected<std::string, Problem> location_text(const std::string& path) {
    return file_contents(path, largest_location_bytes, "a location file",
                         "accepted: a location file, as written by \"keyhour new\"");
}

Read<site::Location> read_location_text(std::string_view text, const std::string& name) {
    if (text.size() > largest_location_bytes) {
        return tl::unexpected{std::vector{too_large(name)}};
    }
    SourceText source{text, name};
    if (auto problem = source.not_utf8()) return tl::unexpected{std::vector{*std::move(problem)}};
    if (text.find_first_not_of(" \t\r\n") == std::string_view::npos) {
        return tl::unexpected{std::vector{
            whole_file(name, "the file is empty", "\"keyhour new\" writes one to start from")}};
    }
    Findings findings{source, std::filesystem::path{name}.parent_path().string()};
    const toml::table table = parse(source, findings);
    return location_of(table, findings);
}

Read<site::Location> read_location_json(std::string_view line, const std::string& name) {
    if (line.size() > largest_location_bytes) return tl::unexpected{std::vector{too_large(name)}};
    JsonSource source{name};
    if (auto problem = source.parse(line)) return tl::unexpected{std::vector{*std::move(problem)}};
    Findings findings{source};
    return location_of(source.tree(), findings);
}

Read<site::Location> read_location(const std::string& path) {
    auto text = location_text(path);
    if (!text) return tl::unexpected{std::vector{text.error()}};
    return read_location_text(*text, path);
}

}  // namespace keyhour::file
