#include "text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <ostream>

#include "keyhour/site/dates.hpp"
#include "terminal.hpp"
#include "words/display_width.hpp"

namespace keyhour::cli {
namespace {

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/// Do two words of a text belong on one line? "3.7 cm", "1 h", "10 March".
bool stay_together(std::string_view word, std::string_view next) {
    if (word.empty() || next.empty() || !is_digit(word.back())) return false;
    if (next.front() >= 'A' && next.front() <= 'Z') return true;
    const std::string_view unit = next.substr(0, next.find_first_of(",;.:)"));
    for (const std::string_view known : {"cm", "m", "m2", "min", "h", "%", "degrees", "cm/min",
                                         "lx", "klx", "ft", "in", "sq", "1/2"})
        if (unit == known) return true;
    return false;
}

/// The end of the word, or of the words that stay together, which begins at `at`.
std::size_t end_of_words(std::string_view text, std::size_t at) {
    for (;;) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        const std::size_t next_end = std::min(text.find(' ', end + 1), text.size());
        if (end == text.size() ||
            !stay_together(text.substr(at, end - at), text.substr(end + 1, next_end - end - 1)))
            return end;
        at = end + 1;
    }
}

}  // namespace

std::size_t columns(std::string_view text) {
    return words::columns(text);
}

void print_wrapped(std::ostream& out, std::string_view text, std::size_t indent,
                   std::size_t indent_after) {
    // The deep indents of a table leave a narrow terminal no room: there it breaks the lines
    // itself.
    constexpr std::size_t least_room = 24;
    const std::size_t own = line_columns(out);
    const std::size_t width = indent_after + least_room <= own ? own : text_width;
    std::size_t at = 0;
    std::string line(indent, ' ');
    bool empty = true;
    const auto end_line = [&] {
        while (!line.empty() && line.back() == ' ')
            line.pop_back();
        out << line << '\n';
        line.assign(indent_after, ' ');
        empty = true;
    };
    while (at < text.size()) {
        const std::size_t end = end_of_words(text, at);
        std::string_view word = text.substr(at, end - at);
        at = end + 1;
        if (word.empty()) {
            if (!empty) line += ' ';
            continue;
        }
        if (!empty && columns(line) + 1 + columns(word) > width) end_line();
        if (!empty) line += ' ';
        while (columns(line) < width && columns(line) + columns(word) > width) {
            const std::string_view part = words::first_columns(word, width - columns(line));
            if (part.empty()) break;
            line += part;
            word.remove_prefix(part.size());
            end_line();
        }
        line += word;
        empty = false;
    }
    out << line << '\n';
}

void print(std::ostream& out, const tell::Paragraphs& paragraphs) {
    for (const tell::Paragraph& p : paragraphs)
        if (p.as_is)
            out << p.text << '\n';
        else
            print_wrapped(out, p.text, p.indent, p.indent_after);
}

}  // namespace keyhour::cli
