#include "position_note.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <initializer_list>
#include <vector>

#include "words/decimal.hpp"

namespace keyhour::read {
namespace {

/// Closer than this, in degrees, decimal degrees and note say the same.
constexpr double same_place_deg = 0.01;
constexpr std::size_t longest_line = 400;  // a note that people read; keeps the search short

struct Note {
    int degrees = 0;
    double minutes = 0;
};

constexpr std::string_view digits = "0123456789";
constexpr std::string_view spaces_and_tabs = " \t";

/// What is left to read of a line; each reader takes what it knows, or nothing.
class Reader {
public:
    explicit Reader(std::string_view text) : rest_{text} {}

    [[nodiscard]] bool done() const { return rest_.empty(); }
    [[nodiscard]] std::string_view rest() const { return rest_; }
    void skip(std::size_t n) { rest_.remove_prefix(std::min(n, rest_.size())); }
    void skip_blanks() { skip(length_of(spaces_and_tabs)); }
    /// To the next digit.
    void seek_number() { skip(std::min(rest_.find_first_of(digits), rest_.size())); }

    std::string_view take_digits() {
        const std::string_view taken = rest_.substr(0, length_of(digits));
        skip(taken.size());
        return taken;
    }

    /// Digits, and a point with digits behind it.
    std::string_view take_decimal() {
        const std::string_view start = rest_;
        take_digits();
        if (rest_.starts_with('.') && rest_.find_first_of(digits) == 1) {
            skip(1);
            take_digits();
        }
        return start.substr(0, start.size() - rest_.size());
    }

    /// The first of the words that stands here, in any case; true if one did.
    bool take_any(std::initializer_list<std::string_view> words) {
        for (const std::string_view word : words) {
            if (!stands_here(word)) continue;
            skip(word.size());
            return true;
        }
        return false;
    }

private:
    [[nodiscard]] std::size_t length_of(std::string_view set) const {
        return std::min(rest_.find_first_not_of(set), rest_.size());
    }

    [[nodiscard]] bool stands_here(std::string_view word) const {
        const auto same = [](char a, char b) {
            return std::tolower(static_cast<unsigned char>(a)) == static_cast<unsigned char>(b);
        };
        return rest_.size() >= word.size() &&
               std::equal(word.begin(), word.end(), rest_.begin(),
                          [same](char w, char r) { return same(r, w); });
    }

    std::string_view rest_;
};

double value_of(std::string_view text) {
    double value = 0;
    static_cast<void>(words::read_decimal(text, value));
    return value;
}

/// "42 deg 18 min" where the reader stands, however it is written.
std::optional<Note> take_note(Reader reader) {
    const std::string_view degrees = reader.take_digits();
    if (degrees.size() > 3) return std::nullopt;
    reader.skip_blanks();
    if (!reader.take_any({"degrees", "degree", "deg", "d", "°", "º"})) return std::nullopt;
    reader.take_any({"."});
    reader.skip_blanks();
    const std::string_view minutes = reader.take_decimal();
    if (minutes.empty() || std::min(minutes.find('.'), minutes.size()) > 2) return std::nullopt;
    reader.skip_blanks();
    if (!reader.take_any({"minutes", "min", "m", "'", "′", "’"})) return std::nullopt;
    return Note{static_cast<int>(value_of(degrees)), value_of(minutes)};
}

std::vector<Note> notes_in(std::string_view comment) {
    std::vector<Note> notes;
    Reader reader{comment};
    for (reader.seek_number(); !reader.done(); reader.seek_number()) {
        if (const auto note = take_note(reader)) notes.push_back(*note);
        reader.take_digits();
    }
    return notes;
}

/// "42.18" with its letters, of the position's text.
std::vector<std::string> decimals_in(std::string_view position) {
    std::vector<std::string> found;
    Reader reader{position};
    for (reader.seek_number(); !reader.done(); reader.seek_number()) {
        const std::string_view decimal = reader.take_decimal();
        const std::size_t point = decimal.find('.');
        if (point <= 3 && decimal.size() > point + 2) found.emplace_back(decimal);
    }
    return found;
}

struct Position {
    std::string_view value;
    std::string_view after;  // the value, on its line
};

/// `position = "..."`, with either of TOML's quotes.
std::optional<Position> position_in(std::string_view line) {
    Reader reader{line};
    reader.skip_blanks();
    if (!reader.take_any({"position"})) return std::nullopt;
    reader.skip_blanks();
    if (!reader.take_any({"="})) return std::nullopt;
    reader.skip_blanks();
    if (!reader.take_any({"\"", "'"})) return std::nullopt;
    const std::size_t end = reader.rest().find_first_of("\"'");
    if (end == std::string_view::npos) return std::nullopt;
    return Position{reader.rest().substr(0, end), reader.rest().substr(end + 1)};
}

std::vector<std::string> lines_of(std::string_view text) {
    std::vector<std::string> lines;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        lines.emplace_back(text.substr(0, std::min(end, longest_line)));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return lines;
}

/// What follows the #, of a line that is nothing else or has a value before it.
std::string comment_of(std::string_view line, bool alone) {
    const std::size_t hash = line.find('#');
    if (hash == std::string_view::npos) return {};
    if (alone && line.find_first_not_of(" \t") != hash) return {};
    return std::string{line.substr(hash)};
}

std::optional<std::string> asked(const std::string& decimal, const Note& note) {
    const double value = value_of(decimal);
    if (std::floor(value) != note.degrees || note.minutes >= 60) return std::nullopt;
    const double meant = note.degrees + note.minutes / 60;
    const double behind_the_point = note.degrees + note.minutes / 100;
    if (std::abs(value - meant) <= same_place_deg) return std::nullopt;
    if (std::abs(value - behind_the_point) > same_place_deg / 2) return std::nullopt;
    return fmt::format(
        "position: {} is decimal degrees, which is {} deg {:.1f} min, but the note beside it says "
        "{} deg {:g} min. Which is right? {} deg {:g} min is {:.4f}.",
        decimal, note.degrees, 60 * (value - note.degrees), note.degrees, note.minutes,
        note.degrees, note.minutes, meant);
}

}  // namespace

std::optional<std::string> position_note_question(std::string_view text) {
    const std::vector<std::string> lines = lines_of(text);
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const auto position = position_in(lines[i]);
        if (!position) continue;
        std::string comments = comment_of(position->after, false);
        if (i > 0) comments += '\n' + comment_of(lines[i - 1], true);
        if (i + 1 < lines.size()) comments += '\n' + comment_of(lines[i + 1], true);
        if (comments.find('#') == std::string::npos) continue;
        const std::vector<Note> notes = notes_in(comments);
        for (const std::string& decimal : decimals_in(position->value))
            for (const Note& note : notes)
                if (auto question = asked(decimal, note)) return question;
    }
    return std::nullopt;
}

}  // namespace keyhour::read
