#pragma once
/// @file
/// A window prepared for rays, in its own axes: u to the right seen from inside, w outward from the
/// wall's inner face, z up from the floor. It takes no memory but through the lists that it is made
/// of: vectors on a desk, lists in the caller's memory on a small board.

#include <array>
#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <utility>
#include <vector>

#include "keyhour/room/limiting_edge.hpp"
#include "keyhour/room/room.hpp"

namespace keyhour::room {

/// The corners of a convex footprint, kept in place. Pieces have 8 at most, and every cut adds one.
class Corners {
public:
    static constexpr std::size_t capacity = 16;

    Corners() = default;
    Corners(std::initializer_list<Point2> corners) {
        for (const Point2 p : corners)
            push_back(p);
    }
    /// Beyond the capacity a corner is dropped.
    void push_back(Point2 p) noexcept {
        if (size_ < capacity) at_[size_++] = p;
    }
    [[nodiscard]] std::size_t size() const noexcept { return size_; }
    [[nodiscard]] const Point2* begin() const noexcept { return at_.data(); }
    [[nodiscard]] const Point2* end() const noexcept { return at_.data() + size_; }
    [[nodiscard]] Point2 operator[](std::size_t i) const noexcept { return at_[i]; }

private:
    std::array<Point2, capacity> at_;
    std::size_t size_ = 0;
};

/// A convex piece of something upright.
struct UprightPiece {
    Corners footprint;         ///< u, w
    Real bottom = 0, top = 0;  ///< z
    LimitingEdge edge;         ///< what it belongs to
};

/// What can stand between a mark and a window's sun, whatever the hour: indices into the opening's
/// pieces.
template <template <class> class List>
struct ObstaclesOf {
    /// @param memory  what a list is made with: nothing for vectors
    template <class... Memory>
    explicit ObstaclesOf(const Memory&... memory)
        : outside(memory...), objects(memory...), walls(memory...) {}

    List<std::uint32_t> outside, objects, walls;
};

/// @tparam List  with push_back, size, begin, end and []
template <template <class> class List>
struct OpeningOf {
    using Obstacles = ObstaclesOf<List>;

    /// @param memory  as above
    template <class... Memory>
    explicit OpeningOf(const Memory&... memory)
        : panes_u(memory...),
          panes_z(memory...),
          outside(memory...),
          objects(memory...),
          walls(memory...),
          marks(memory...),
          before(memory...) {}

    WallFrame frame;
    Real left = 0, right = 0, sill = 0, head = 0, reveal = 0;
    Real bar_plane = 0;  ///< w of the bars
    List<std::pair<Real, Real>> panes_u, panes_z;
    List<UprightPiece> outside;  ///< beyond the outer plane
    List<UprightPiece> objects;  ///< inside, on the room's side of the wall
    List<UprightPiece> walls;    ///< inner walls, only if the floor is not convex
    List<Point2> marks;          ///< u, w of each mark
    List<Obstacles> before;      ///< of each mark
};

template <class T>
using OwnList = std::vector<T>;

}  // namespace keyhour::room
