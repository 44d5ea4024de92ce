#pragma once
/// @file
/// What was observed on the recce of which way a wall faces, kind by kind, with its doubt.
///
/// A doubt `within` is half the range in which the true figure lies, all of it equally likely: its
/// standard uncertainty is within / sqrt(3) (GUM, JCGM 100:2008, 4.3.7).

#include <cstddef>
#include <optional>
#include <string>
#include <variant>

#include "keyhour/room/room.hpp"
#include "keyhour/site/position.hpp"
#include "keyhour/sun/instant.hpp"

namespace keyhour::study {

// Doubts where none are given, by how it is usually measured. Common practice, no source.
// All are half the range in which the value lies.
inline constexpr Angle usual_compass_within = Angle::degrees(5);  ///< of a compass's bearing
inline constexpr Angle usual_true_within = Angle::degrees(2);     ///< of one from true north
inline constexpr double usual_map_within_m = 2;                   ///< of a point picked on a map
inline constexpr double usual_graze_within_s = 120;               ///< of the moment seen
inline constexpr double usual_shadow_within_m = 0.01;             ///< of a point taped on the floor
inline constexpr Angle usual_angle_within = Angle::degrees(1);    ///< of a protractor's angle
inline constexpr double usual_corner_within_m = 0.02;             ///< of a patch's soft corner
inline constexpr double usual_clock_within_s = 30;                ///< of the clock behind all times
/// Of a window where the file does not say: along the wall, and every other length.
inline constexpr double usual_left_within_m = 0.02;
inline constexpr double usual_opening_within_m = 0.01;
/// The middle of a shadow's soft edge is found within a quarter of the sun's disc.
inline constexpr Angle edge_within = Angle::degrees(0.13);

/// The moment of an observation. `within_s` is the reading alone (half a minute for a whole
/// minute): what the clock itself is off is common to all observations.
struct ClockTime {
    Instant at;            ///< as the clock showed it
    double within_s = 30;  ///< half the range
};

/// A compass needle against true north.
struct Needle {
    Angle declination;  ///< add to the reading, east positive
    Angle uncertainty;  ///< one standard deviation
};

/// Which way a wall faces, read off a compass or known from a survey.
struct WallBearing {
    std::size_t wall = 0;          ///< index into Room::walls
    Angle faces;                   ///< as read, looking out, square to the wall
    std::optional<Needle> needle;  ///< none: from true north
    Angle within;                  ///< half the range
};

/// Two points along a wall, from a map.
struct MapLine {
    std::size_t wall = 0;           ///< index into Room::walls
    site::Coordinates left, right;  ///< ends as seen from inside
    bool sides_known = true;        ///< false: left and right may be the other way round
    double within_m = 0;            ///< of each point, each way
};

/// The moment at which the sun began or ceased to graze the wall's plane.
struct Graze {
    enum class Sun { unknown, begins, ends };
    std::size_t wall = 0;    ///< index into Room::walls
    Sun sun = Sun::unknown;  ///< begins to reach the wall's outer face, or ceases to
    ClockTime time;
};

/// Two measured points of the shadow of something upright (a jamb, a plumb line), on the plan.
struct ShadowLine {
    room::Point2 from, to;  ///< plan metres
    bool from_edge = true;  ///< `from` lies nearer to the edge; false: not known
    double within_m = 0;    ///< of each point, each way
    ClockTime time;
};

/// The angle on the floor between a wall and such a shadow, which falls into the room.
struct ShadowAngle {
    std::size_t wall = 0;    ///< index into Room::walls
    bool from_right = true;  ///< from the wall's right-hand part, seen from inside; else the left
    Angle angle;             ///< 0..180 degrees; 90: straight into the room
    Angle within;            ///< half the range
    ClockTime time;
};

/// A corner of a patch of sun, on the floor or a wall, cast by a corner of a window.
struct PatchCorner {
    std::size_t window = 0;  ///< index into Room::windows
    bool by_head = true;     ///< else by the sill
    bool by_left = true;     ///< by the left jamb, seen from inside; else the right
    room::Point3 at;         ///< plan metres
    /// Wall that it lies on; none: the floor.
    std::optional<std::size_t> on_wall;
    double within_m = 0;  ///< each way
    ClockTime time;
};

/// The bearing of some other wall, and the angle between the two.
struct OtherWall {
    std::size_t wall = 0;          ///< index into Room::walls
    std::string other;             ///< what it is
    Angle faces;                   ///< the other one, as read
    std::optional<Needle> needle;  ///< none: from true north
    Angle within;                  ///< half the range, of the other's facing
    Angle turn;                    ///< from the other's facing to the wall's, clockwise
    bool turn_known = true;        ///< false: clockwise or anticlockwise
    Angle turn_within;
};

/// One piece of evidence about the room's bearing.
struct Observation {
    std::string name;   ///< "shadow 2"
    std::string place;  ///< where it was read: "recce.toml:12"
    std::variant<WallBearing, MapLine, Graze, ShadowLine, ShadowAngle, PatchCorner, OtherWall> what;
};

/// "compass", "map", "graze", "shadow", "corner", "other wall".
[[nodiscard]] const char* kind_in_words(const Observation& observation) noexcept;

/// The moment, of those kinds that have one.
[[nodiscard]] std::optional<ClockTime> time_of(const Observation& observation) noexcept;

/// The wall that the observation is about; none for a shadow between two points.
[[nodiscard]] std::optional<std::size_t> wall_of(const Observation& observation,
                                                 const room::Room& room) noexcept;

}  // namespace keyhour::study
