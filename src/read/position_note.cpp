#include "position_note.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <regex>
#include <vector>

namespace keyhour::read {
namespace {

/// Closer than this, in degrees, decimal degrees and note say the same.
constexpr double same_place_deg = 0.01;
constexpr std::size_t longest_line = 400;  // a note that people read; keeps the search short

struct Note {
    int degrees = 0;
    double minutes = 0;
};

/// Degrees and minutes in a comment, however they are written.
std::vector<Note> notes_in(const std::string& comment) {
    static const std::regex form{
        R"((\d{1,3})\s*(?:degrees|degree|deg|d|°|º)\.?\s*(\d{1,2}(?:\.\d+)?)\s*(?:minutes|min|m|'|′|’))",
        std::regex::icase | std::regex::optimize};
    std::vector<Note> notes;
    for (std::sregex_iterator it{comment.begin(), comment.end(), form}, end; it != end; ++it)
        notes.push_back({std::stoi((*it)[1]), std::stod((*it)[2])});
    return notes;
}

/// "42.18" with its letters, of the position's text.
std::vector<std::string> decimals_in(const std::string& position) {
    static const std::regex form{R"(\d{1,3}\.\d{2,})", std::regex::optimize};
    std::vector<std::string> found;
    for (std::sregex_iterator it{position.begin(), position.end(), form}, end; it != end; ++it)
        found.push_back(it->str());
    return found;
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
std::string comment_of(const std::string& line, bool alone) {
    const std::size_t hash = line.find('#');
    if (hash == std::string::npos) return {};
    if (alone && line.find_first_not_of(" \t") != hash) return {};
    return line.substr(hash);
}

std::optional<std::string> asked(const std::string& decimal, const Note& note) {
    const double value = std::stod(decimal);
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
        if (lines[i].find("position") == std::string::npos) continue;
        static const std::regex key{R"(^\s*position\s*=\s*["']([^"']*)["'])", std::regex::optimize};
        std::smatch match;
        if (!std::regex_search(lines[i], match, key)) continue;
        std::string comments = comment_of(match.suffix(), false);
        if (i > 0) comments += '\n' + comment_of(lines[i - 1], true);
        if (i + 1 < lines.size()) comments += '\n' + comment_of(lines[i + 1], true);
        if (comments.find('#') == std::string::npos) continue;
        const std::vector<Note> notes = notes_in(comments);
        for (const std::string& decimal : decimals_in(match[1]))
            for (const Note& note : notes)
                if (auto question = asked(decimal, note)) return question;
    }
    return std::nullopt;
}

}  // namespace keyhour::read
