#pragma once
/// @file
/// Which edges may touch a mark's silhouette, seen from one direction: bounds, no areas.

#include <cstddef>
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
    std::uint16_t hidden = 0;   ///< by a piece alone: a bit a piece, the first fifteen
    std::uint64_t pieces = 0;   ///< the lowest bit of each piece's four
    std::uint64_t outside = 0;  ///< the same of those outside

    /// On which side of the silhouette a piece's shadow wholly lies; none: perhaps before it.
    enum Side : unsigned { left = 1, right = 2, above = 4, below = 8, every_side = 15 };

    void set_beyond(int bit, bool is_beyond) noexcept {
        if (is_beyond) beyond = static_cast<std::uint16_t>(beyond | 1 << bit);
    }
    /// Takes a piece's four bits; @param index of the piece, in one order for all directions
    void add_piece(std::size_t index, unsigned on_sides, bool is_outside) noexcept {
        const std::uint64_t first = first_bit(index);
        if ((pieces & first) == 0) clear |= first * every_side;
        pieces |= first;
        if (is_outside) outside |= first;
        clear &= ~(first * (every_side - on_sides));
    }
    /// Has the piece bits of its own, not those that all from the sixteenth on share?
    [[nodiscard]] static constexpr bool can_hide(std::size_t index) noexcept {
        return index < last_slot;
    }
    /// @pre can_hide(index)
    void set_hidden_by(std::size_t index) noexcept {
        hidden = static_cast<std::uint16_t>(hidden | 1 << index);
    }

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
    static constexpr std::size_t last_slot = 15;
    [[nodiscard]] static std::uint64_t first_bit(std::size_t index) noexcept {
        return std::uint64_t{1} << (4 * (index < last_slot ? index : last_slot));
    }
    [[nodiscard]] std::uint64_t nears(std::uint64_t of) const noexcept {
        return of & ~(clear | clear >> 1 | clear >> 2 | clear >> 3);
    }
};

}  // namespace keyhour::room
