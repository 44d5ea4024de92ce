#pragma once
// The examples of a text in Markdown: what is printed there, held against what the program does.
// With KEYHOUR_REWRITE set in the environment the outputs are written into the text instead.

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "cli/terminal.hpp"
#include "run_program.hpp"

namespace examples {

/// One fenced block: "text" with a "$ keyhour" line shows an output; "sh" is run by a shell.
struct Fence {
    std::string language;
    std::vector<std::string> lines;
    std::size_t first_line = 0;  // of the file, counted from 1
};

inline std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in{text};
    for (std::string line; std::getline(in, line);)
        lines.push_back(line);
    return lines;
}

inline std::string contents(const std::filesystem::path& path) {
    std::ifstream in{path};
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

/// A block that is never closed is a fault of the text.
inline std::vector<Fence> fences_of(const std::string& text) {
    std::vector<Fence> out;
    bool inside = false;
    std::size_t number = 0;
    for (const std::string& line : lines_of(text)) {
        ++number;
        if (line.starts_with("```")) {
            if (inside)
                REQUIRE(line == "```");
            else
                out.push_back({line.substr(3), {}, number + 1});
            inside = !inside;
        } else if (inside) {
            out.back().lines.push_back(line);
        }
    }
    REQUIRE_FALSE(inside);
    return out;
}

/// Words as a shell would part them, for the few quotes that examples use.
inline std::vector<std::string> words_of(const std::string& command) {
    std::vector<std::string> words;
    bool quoted = false, open = false;
    for (const char c : command) {
        if (c == '"') {
            quoted = !quoted;
            if (!open) words.emplace_back();
            open = true;
        } else if ((c == ' ' || c == '\n') && !quoted) {
            open = false;
        } else {
            if (!open) words.emplace_back();
            open = true;
            words.back() += c;
        }
    }
    return words;
}

/// A "$ keyhour ..." block: the command, over several lines where they end in a backslash, and what
/// is shown below it. A line "..." stands for one line or more.
struct Shown {
    std::size_t command_lines = 1;
    std::vector<std::string> arguments, output;
};

inline Shown shown(const Fence& fence) {
    Shown out;
    std::string command;
    std::size_t i = 0;
    for (;; ++i) {
        command += fence.lines.at(i);
        if (!command.ends_with('\\')) break;
        command.back() = ' ';
    }
    out.command_lines = i + 1;
    auto words = words_of(command);
    words.erase(words.begin(), words.begin() + 2);  // "$ keyhour"
    out.arguments = std::move(words);
    out.output.assign(fence.lines.begin() + static_cast<std::ptrdiff_t>(i) + 1, fence.lines.end());
    return out;
}

inline bool is_shown(const Fence& fence) {
    return !fence.lines.empty() && fence.lines.front().starts_with("$ keyhour ");
}

/// Are these the lines, where "..." stands for one line or more?
inline bool agrees(const std::vector<std::string>& expected, std::size_t e,
                   const std::vector<std::string>& printed, std::size_t p) {
    if (e == expected.size()) return p == printed.size();
    if (expected[e] == "...") {
        for (std::size_t after = p + 1; after <= printed.size(); ++after)
            if (agrees(expected, e + 1, printed, after)) return true;
        return false;
    }
    return p < printed.size() && expected[e] == printed[p] &&
           agrees(expected, e + 1, printed, p + 1);
}

/// As many lines as are shown now, up to the first "...", and that again if lines are left. A block
/// that begins with "..." is left as it is: only its writer knows which lines it is about.
inline std::vector<std::string> rewritten(const std::vector<std::string>& expected,
                                          std::vector<std::string> printed) {
    const auto dots = std::find(expected.begin(), expected.end(), "...");
    if (dots == expected.end()) return printed;
    const auto kept = static_cast<std::size_t>(dots - expected.begin());
    if (kept == 0) return expected;
    if (kept >= printed.size()) return printed;
    printed.resize(kept);
    printed.emplace_back("...");
    return printed;
}

inline std::string joined(const std::vector<std::string>& lines) {
    std::string out;
    for (const std::string& line : lines)
        out += line + '\n';
    return out;
}

/// Puts the lines that are printed now where the block has its output.
inline void rewrite(const std::filesystem::path& path, const Fence& fence, const Shown& example,
                    const std::vector<std::string>& printed) {
    auto lines = lines_of(contents(path));
    const auto first =
        lines.begin() + static_cast<std::ptrdiff_t>(fence.first_line - 1 + example.command_lines);
    const auto at = lines.erase(first, first + static_cast<std::ptrdiff_t>(example.output.size()));
    lines.insert(at, printed.begin(), printed.end());
    std::ofstream{path} << joined(lines);
}

/// The program with lines of so many columns.
inline Outcome run_narrow(const std::vector<std::string>& arguments, std::size_t columns) {
    std::vector<const char*> argv{"keyhour"};
    for (const std::string& argument : arguments)
        argv.push_back(argument.c_str());
    std::istringstream in;
    std::ostringstream out, err;
    keyhour::cli::set_line_columns(out, columns);
    const int code = keyhour::cli::run(static_cast<int>(argv.size()), argv.data(), in, out, err);
    return {code, out.str(), err.str()};
}

/// Runs a block in the folder where it stands in the text, in lines of so many columns.
/// @return did the program print what is shown?
inline bool holds(const std::filesystem::path& path, const Fence& fence, std::size_t columns) {
    const Shown example = shown(fence);
    const Outcome outcome = run_narrow(example.arguments, columns);
    const auto printed = lines_of(outcome.out);
    INFO(path.filename().string() << ":" << fence.first_line << ": prints\n"
                                  << outcome.out << outcome.err);
    CHECK(outcome.code == keyhour::cli::answered);
    if (std::getenv("KEYHOUR_REWRITE") != nullptr) {
        if (agrees(example.output, 0, printed, 0)) return true;
        const auto wanted = rewritten(example.output, printed);
        const bool same = wanted == example.output;
        if (!same) rewrite(path, fence, example, wanted);
        return same;
    }
    const bool as_shown = agrees(example.output, 0, printed, 0);
    CHECK(as_shown);
    return as_shown;
}

/// All blocks of a text that show an output. @return how many
inline std::size_t check_outputs(const std::filesystem::path& path, std::size_t columns) {
    std::size_t checked = 0;
    for (std::size_t i = 0;; ++i) {
        const auto fences = fences_of(contents(path));  // again: lines may have moved
        if (i >= fences.size()) return checked;
        if (!is_shown(fences[i])) continue;
        holds(path, fences[i], columns);
        ++checked;
    }
}

}  // namespace examples
