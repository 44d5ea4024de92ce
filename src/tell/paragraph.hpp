#pragma once
/// @file
/// What an answer says, sentence by sentence, before anybody breaks it into lines.

#include <cstddef>
#include <string>
#include <vector>

namespace keyhour::tell {

struct Paragraph {
    std::string text;
    std::size_t indent = 0;        ///< columns before its first line
    std::size_t indent_after = 2;  ///< before the others, where it does not fit one line
    bool as_is = false;            ///< one line at any width: a table's row, a line to paste
};

using Paragraphs = std::vector<Paragraph>;

/// Each line a paragraph.
[[nodiscard]] inline Paragraphs paragraphs(const std::vector<std::string>& lines) {
    Paragraphs out;
    for (const std::string& line : lines)
        out.push_back({line});
    return out;
}

}  // namespace keyhour::tell
