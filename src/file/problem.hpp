#pragma once
/// @file
/// What is wrong with a file, where, and what would be right.

#include <string>
#include <vector>

namespace keyhour::file {

struct Problem {
    std::string file;      ///< as the user named it
    int line = 0;          ///< from 1; 0 if the problem is the file itself
    int column = 0;        ///< from 1, in characters, not bytes
    std::string found;     ///< what stands there
    std::string accepted;  ///< what may stand there, or a suggestion; can be empty
    std::string source;    ///< the line of the file, for showing; can be empty

    /// "FOUND; ACCEPTED": without the place; one line, whatever was found.
    [[nodiscard]] std::string message() const;

    /// "FILE:LINE:COLUMN: FOUND; ACCEPTED", then the source line with a caret below the place.
    /// No newline at the end.
    [[nodiscard]] std::string text() const;
};

/// All problems, one below the other, each ending in a newline.
[[nodiscard]] std::string text(const std::vector<Problem>& problems);

}  // namespace keyhour::file
