#pragma once
/// @file
/// A room prepared for rays in the caller's memory: what room::Scene is on a desk, from the same
/// parts.

#include <array>
#include <optional>

#include "../room/camera_geometry.hpp"
#include "../room/coverage_of.hpp"
#include "../room/opening_maker.hpp"
#include "arena.hpp"
#include "keyhour/keyhour.h"
#include "keyhour/room/scene.hpp"

namespace keyhour::c {

using room::Real;

struct SmallBars {
    int upright, level;
    Real width_m, set_back_m;
};

/// What of a room::Window and a room::Mark rays ask for, under the same names.
struct SmallWindow {
    std::size_t wall;
    Real left_m, width_m, sill_m, height_m, reveal_m;
    SmallBars bars;
};
struct SmallMark {
    room::Point2 at;
    Real height_m, radius_m;
    std::optional<std::array<Real, 3>> box_m;
    Real half_size_m;
};

/// A camera as the conditions of a key ask it.
struct SmallCamera {
    std::size_t aims_at;
    room::Point2 to_camera;  ///< from the mark
    room::CameraAxes axes;
    Real across, upright;  ///< tangents of half the angles of view

    [[nodiscard]] Angle key_angle(room::Point3 sun) const noexcept {
        return room::key_angle_between(to_camera, sun);
    }
    [[nodiscard]] bool has_in_frame(room::Point3 sun) const noexcept {
        return room::is_within_frame(axes, across, upright, sun);
    }
};

struct SmallObject {
    const room::Point2* corners;
    std::size_t count;
    Real height_m;
    [[nodiscard]] std::span<const room::Point2> footprint() const noexcept {
        return {corners, count};
    }
};

using SmallOpening = room::OpeningOf<ArenaList>;
using Covers = ArenaList<room::Convex>;

class SmallRoom {
public:
    /// @pre the room is sound: see fault_of
    SmallRoom(const keyhour_room& room, Arena arena) noexcept;

    [[nodiscard]] bool has_memory() const noexcept { return !arena_.is_exhausted(); }
    /// What questions may use, each from the beginning.
    [[nodiscard]] Arena& spare() noexcept { return arena_; }

    [[nodiscard]] std::span<const room::Point2> floor() const noexcept {
        return {floor_.data(), floor_.size()};
    }
    [[nodiscard]] Real height_m() const noexcept { return body_.height_m; }
    [[nodiscard]] const ArenaList<SmallOpening>& openings() const noexcept { return openings_; }
    [[nodiscard]] const ArenaList<SmallMark>& marks() const noexcept { return marks_; }
    [[nodiscard]] const ArenaList<SmallCamera>& cameras() const noexcept { return cameras_; }
    [[nodiscard]] const ArenaList<SmallObject>& objects() const noexcept { return objects_; }
    [[nodiscard]] std::size_t wall_of(std::size_t window) const noexcept { return walls_[window]; }
    /// Convex pieces on the plan: of the floor, and of the objects, whose edge tells which.
    [[nodiscard]] const ArenaList<room::UprightPiece>& floor_pieces() const noexcept {
        return floor_pieces_;
    }
    [[nodiscard]] const ArenaList<room::UprightPiece>& object_pieces() const noexcept {
        return body_.objects;
    }

    [[nodiscard]] room::Point3 to_plan(const LevelVector& v) const noexcept {
        return turn_.to_plan(v);
    }

private:
    void add_bodies(const keyhour_room& room);
    void add_subjects(const keyhour_room& room);

    Arena arena_;
    ArenaList<room::Point2> floor_;
    ArenaList<SmallOpening> openings_;
    ArenaList<std::size_t> walls_;  // of each window
    ArenaList<SmallMark> marks_;
    ArenaList<SmallCamera> cameras_;
    ArenaList<SmallObject> objects_;
    ArenaList<room::UprightPiece> floor_pieces_;
    room::BodyOf<ArenaList> body_;
    room::PlanTurn turn_;
};

/// OK, BAD_VALUE or BAD_ROOM.
[[nodiscard]] keyhour_status fault_of(const keyhour_room& room) noexcept;

/// A small room asked as a study asks room::Scene; lends one list of outlines to all questions.
class SmallScene {
public:
    SmallScene(const SmallRoom& room, Covers& covers) noexcept : room_{room}, covers_{covers} {}

    [[nodiscard]] Real in_front(std::size_t window, room::Point3 sun) const noexcept {
        return dot(room::Point2{sun.x, sun.y}, room_.openings()[window].frame.n);
    }
    [[nodiscard]] Real centre_margin(std::size_t mark, std::size_t window,
                                     room::Point3 sun) const noexcept;
    [[nodiscard]] Real coverage(std::size_t mark, std::size_t window,
                                room::Point3 sun) const noexcept;

private:
    const SmallRoom& room_;
    Covers& covers_;
};

}  // namespace keyhour::c

/// What C holds a pointer to.
struct keyhour_scene : keyhour::c::SmallRoom {
    using SmallRoom::SmallRoom;
};
