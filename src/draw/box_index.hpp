#pragma once
// Which of many things on a paper meet a box, without asking each of them.

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <vector>

#include "box.hpp"

namespace keyhour::draw {

/// @tparam Item  has a Box `bounds`
template <class Item>
class BoxIndex {
public:
    explicit BoxIndex(const Box& paper)
        : paper_{paper},
          columns_{cells_over(paper.right - paper.left)},
          rows_{cells_over(paper.bottom - paper.top)},
          cells_(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_)) {}

    void add(Item item) {
        const Box& b = item.bounds;
        for (int row = row_of(b.top); row <= row_of(b.bottom); ++row)
            for (int column = column_of(b.left); column <= column_of(b.right); ++column)
                cells_[cell(row, column)].push_back(static_cast<std::uint32_t>(items_.size()));
        items_.push_back(std::move(item));
    }

    /// Each item whose bounds meet the box, once, until `stop` says so.
    template <class Stop>
    void each(const Box& box, const Stop& stop) const {
        for (int row = row_of(box.top); row <= row_of(box.bottom); ++row)
            for (int column = column_of(box.left); column <= column_of(box.right); ++column)
                for (const std::uint32_t i : cells_[cell(row, column)]) {
                    const Item& item = items_[i];
                    // In several cells: counted in the one that holds the corner they share.
                    if (item.bounds.meets(box) &&
                        row == row_of(std::max(item.bounds.top, box.top)) &&
                        column == column_of(std::max(item.bounds.left, box.left)) && stop(item))
                        return;
                }
    }

private:
    static constexpr double cell_mm = 8;
    static constexpr int most_cells = 256;

    static int cells_over(double length_mm) {
        return static_cast<int>(std::clamp(std::ceil(length_mm / cell_mm), 1.0, 1.0 * most_cells));
    }
    /// What lies off the paper belongs to its outermost cells.
    [[nodiscard]] int column_of(double x) const {
        return static_cast<int>(std::clamp((x - paper_.left) / cell_mm, 0.0, columns_ - 1.0));
    }
    [[nodiscard]] int row_of(double y) const {
        return static_cast<int>(std::clamp((y - paper_.top) / cell_mm, 0.0, rows_ - 1.0));
    }
    [[nodiscard]] std::size_t cell(int row, int column) const {
        return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
               static_cast<std::size_t>(column);
    }

    Box paper_;
    int columns_, rows_;
    std::vector<Item> items_;
    std::vector<std::vector<std::uint32_t>> cells_;
};

}  // namespace keyhour::draw
