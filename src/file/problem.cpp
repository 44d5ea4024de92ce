#include "problem.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "words/shown.hpp"
#include "words/utf8.hpp"

namespace keyhour::file {

namespace {

constexpr std::size_t shown_characters = 96;

/// The source line cut to a width that fits a terminal, and the caret below the place.
std::string excerpt(const std::string& source, int column) {
    const std::vector<std::string_view> characters = words::utf8_characters(source);
    const std::size_t caret = static_cast<std::size_t>(std::max(column, 1) - 1);
    std::size_t first = 0;
    // Leading blanks say nothing, and a long line is shown around the place.
    while (first < characters.size() && first < caret &&
           (characters[first] == " " || characters[first] == "\t")) {
        ++first;
    }
    if (caret - first > shown_characters * 3 / 4) first = caret - shown_characters / 2;
    const std::size_t last = std::min(characters.size(), first + shown_characters);
    std::string shown;
    std::size_t blanks = caret - std::min(caret, first);
    for (std::size_t i = first; i < last; ++i) {
        const std::string safe =
            characters[i] == "\t" ? " " : words::escaped_character(characters[i]);
        shown += safe;
        if (i < caret && safe != characters[i]) blanks += safe.size() - 1;  // an escape is longer
    }
    return fmt::format("  {}\n  {}^", shown, std::string(blanks, ' '));
}

}  // namespace

std::string Problem::message() const {
    if (accepted.empty()) return words::escaped(found);
    return words::escaped(
        fmt::format("{}{}{}", found, found.ends_with('?') ? " " : "; ", accepted));
}

std::string Problem::text() const {
    const std::string name = words::shown(file);
    const std::string place = line > 0 ? fmt::format("{}:{}:{}", name, line, column) : name;
    const bool shown = line > 0 && !source.empty();
    return fmt::format("{}: {}{}{}", place, message(), shown ? "\n" : "",
                       shown ? excerpt(source, column) : std::string{});
}

std::string text(const std::vector<Problem>& problems) {
    std::string out;
    for (const Problem& problem : problems)
        out += problem.text() + "\n";
    return out;
}

}  // namespace keyhour::file
