#pragma once
/// @file
/// Which edges may touch a mark's silhouette, seen from one direction: bounds, no areas.

#include <cstdint>

namespace keyhour::room {

/// What is so in two directions, and bounded by planes, is so in all between them: a cell of
/// directions is judged from its corners.
struct Touch {
    /// The silhouette (its middle, if more than half is wanted) lies beyond an edge of the opening
    /// (four of the inner rectangle, four of the outer), or nothing passes the opening (three bits:
    /// to either side, above).
    std::uint16_t beyond = 0;
    static constexpr int no_pane = -1, any_pane = -2;
    int pane = no_pane;  ///< that wholly holds the silhouette
    /// Four bits a piece (of what stands outside, then inside): wholly left, right, above, below.
    /// From the sixteenth on they share the last four.
    std::uint64_t clear = 0;
    std::uint16_t hidden = 0;   ///< by a piece alone: a bit a piece, the first sixteen
    std::uint64_t pieces = 0;   ///< the lowest bit of each piece's four
    std::uint64_t outside = 0;  ///< the same of those outside

    [[nodiscard]] static Touch everything() noexcept {
        return {0xffff, any_pane, ~std::uint64_t{0}, 0xffff, 0, 0};
    }
    [[nodiscard]] Touch and_also(const Touch& o) const noexcept {
        return {static_cast<std::uint16_t>(beyond & o.beyond),
                pane == any_pane || pane == o.pane ? o.pane : no_pane,
                clear & o.clear,
                static_cast<std::uint16_t>(hidden & o.hidden),
                pieces | o.pieces,
                outside | o.outside};
    }
    [[nodiscard]] bool is_dark() const noexcept { return beyond != 0 || hidden != 0; }
    [[nodiscard]] bool is_lit() const noexcept { return pane >= 0 && nears(pieces) == 0; }
    [[nodiscard]] bool nears_outside() const noexcept { return nears(outside) != 0; }

private:
    [[nodiscard]] std::uint64_t nears(std::uint64_t of) const noexcept {
        return of & ~(clear | clear >> 1 | clear >> 2 | clear >> 3);
    }
};

}  // namespace keyhour::room
