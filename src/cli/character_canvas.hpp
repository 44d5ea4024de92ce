#pragma once
// The cells that drawings of characters are written into, and the signs that stand in them.

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "character_drawing.hpp"

namespace keyhour::cli {

/// Characters by what they stand for.
struct Signs {
    const char *wall, *open, *sheer, *blackout, *object;
    const char *sure, *stated, *possible;
};

[[nodiscard]] const Signs& signs(const CharacterSet& set);

/// Rows of cells. A cell holds one glyph; of a wide one the cell after it is empty.
class Canvas {
public:
    Canvas(std::size_t columns, std::size_t rows)
        : columns_{columns}, cells_(columns * rows, " "), written_(columns * rows, false) {}

    /// Puts a sign of one column.
    void set(std::size_t column, std::size_t row, std::string_view sign) {
        free(column, row);
        cell(column, row) = sign;
    }
    /// Puts a text from the column on; what does not fit is cut.
    void write(std::size_t column, std::size_t row, std::string_view text);
    /// Is there a text in one of these cells?
    [[nodiscard]] bool is_written(std::size_t column, std::size_t row, std::size_t wide) const {
        for (std::size_t c = column; c < std::min(column + wide, columns_); ++c)
            if (written_[row * columns_ + c]) return true;
        return false;
    }
    [[nodiscard]] std::string line(std::size_t row) const {
        std::string text;
        for (std::size_t c = 0; c < columns_; ++c)
            text += cells_[row * columns_ + c];
        while (!text.empty() && text.back() == ' ')
            text.pop_back();
        return text;
    }

private:
    [[nodiscard]] std::string& cell(std::size_t column, std::size_t row) {
        return cells_[row * columns_ + column];
    }
    /// Half of a wide glyph can't stay alone.
    void free(std::size_t column, std::size_t row) {
        if (column > 0 && cell(column, row).empty()) cell(column - 1, row) = " ";
        if (column + 1 < columns_ && cell(column + 1, row).empty()) cell(column + 1, row) = " ";
    }

    std::size_t columns_;
    std::vector<std::string> cells_;
    std::vector<bool> written_;
};

/// A name as a terminal may show it.
[[nodiscard]] std::string shown(std::string_view name, const CharacterSet& set);

/// Shortened, and marked as such, where it is too long.
[[nodiscard]] std::string cut(const std::string& text, std::size_t width);

}  // namespace keyhour::cli
