#pragma once
// An upright rectangle on the paper, mm; y runs down.

#include "svg.hpp"

namespace keyhour::draw {

struct Box {
    double left = 0, top = 0, right = 0, bottom = 0;
    [[nodiscard]] double overlap(const Box& other) const;
    [[nodiscard]] bool meets(const Box& o) const {
        return left <= o.right && o.left <= right && top <= o.bottom && o.top <= bottom;
    }
    [[nodiscard]] Box grown(double by) const {
        return {left - by, top - by, right + by, bottom + by};
    }
    [[nodiscard]] Point2 middle() const { return {(left + right) / 2, (top + bottom) / 2}; }
    [[nodiscard]] bool is_empty() const { return right <= left; }
};

}  // namespace keyhour::draw
