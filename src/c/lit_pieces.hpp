#pragma once
/// @file
/// Where the sun through an opening falls, as convex pieces: without memory but that of the list of
/// outlines. room::Scene::patches asks a library for whole outlines instead.

#include "small_room.hpp"

namespace keyhour::c {

/// One patch, piece by piece.
class PieceSink {
public:
    PieceSink(keyhour_piece_sink sink, void* context) noexcept : sink_{sink}, context_{context} {}
    void begin(keyhour_surface_kind kind, std::size_t index) noexcept;
    /// @param corners  on the plan
    void add(const keyhour_point3* corners, std::size_t n) noexcept;
    [[nodiscard]] keyhour_patch patch() const noexcept;

private:
    keyhour_piece_sink sink_;
    void* context_;
    keyhour_surface_kind kind_ = KEYHOUR_FLOOR;
    std::size_t index_ = 0;
    Real area_m2_ = 0;
    room::Point3 moment_;  // area times place
};

/// The light of one window and one direction of the sun.
class LitPieces {
public:
    LitPieces(const SmallRoom& room, std::size_t window, const room::SunRays& rays, Covers& covers,
              PieceSink& sink) noexcept
        : room_{room}, o_{room.openings()[window]}, rays_{rays}, covers_{covers}, sink_{sink} {}

    void on_floor() noexcept;
    void on_wall(std::size_t wall) noexcept;
    void on_object(std::size_t object) noexcept;

private:
    /// Light on a convex piece of a level face, on the plan.
    void on_level(const room::UprightPiece& piece, Real z) noexcept;
    /// Light on an upright face from a to b, 0..top. `outward` = +1 if the face's back lies to the
    /// right of a -> b, -1 if to the left.
    void on_upright(room::Point2 a, room::Point2 b, Real top, Real outward) noexcept;
    void cover(const room::UprightPiece& piece) noexcept;
    void cover_outside() noexcept;
    /// @param place  from the window's inner plane to the face, in the window's axes
    template <class Place>
    void take(const room::Convex& face, const Place& place) noexcept;

    const SmallRoom& room_;
    const SmallOpening& o_;
    const room::SunRays& rays_;
    Covers& covers_;
    PieceSink& sink_;
};

}  // namespace keyhour::c
