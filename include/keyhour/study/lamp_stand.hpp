#pragma once
/// @file
/// Where must a lamp stand outside a window to stand in for the sun (or to give a wanted key), what
/// does it throw from there, and how does that differ from the sun's light?
///
/// Levels are lx, square to the ray, of a lamp aimed at the mark's centre.

#include <optional>
#include <string>
#include <vector>

#include "keyhour/light/lighting_ratio.hpp"
#include "keyhour/room/lamp_throw.hpp"
#include "keyhour/site/location.hpp"
#include "keyhour/study/lamp_output.hpp"

namespace keyhour::study {

/// Nearer to the wall's outer face than this no stand is set. Common practice, no source.
inline constexpr double least_off_wall_m = 0.3;

/// Where the lamp should be, seen from the mark.
struct StandWish {
    std::size_t window = 0, mark = 0;  ///< indices into the room's lists
    /// Unit vector from the mark's centre to the lamp, plan axes. With `height_m` only its level
    /// part counts.
    room::Point3 toward;
    std::optional<double> height_m;    ///< of the lamp above the ground where it stands
    std::optional<double> distance_m;  ///< from the mark, along the ray; else as far as can be
    double farthest_m = 15;     ///< beyond this no lamp is looked for (this project's choice)
    double ground_below_m = 0;  ///< the ground where it stands, below the room's floor
    double coverage = 0.95;     ///< of the mark, wanted
};

/// What keeps a lamp from a place.
enum class Hindrance {
    behind_wall,    ///< it does not stand before the window's wall
    too_near_wall,  ///< within least_off_wall_m, or half its face, of the wall
    in_own_walls,   ///< the room's own wing stands there
    in_building,
    below_ground,  ///< the lamp, or half its face, would be in the ground
    above_stand,   ///< higher than its stand goes
    not_covered,   ///< its light does not reach all of the mark
};

/// One hindrance, and what it is.
struct Obstacle {
    Hindrance what = Hindrance::not_covered;
    room::LimitingEdge edge;  ///< of what is not covered: what takes most of it; or the building
};

/// "head", "the stand goes to 3 m": why not, for people.
[[nodiscard]] std::string words(const Obstacle& obstacle, const room::Room& room,
                                const site::Lamp& lamp);

/// A place for a lamp, judged.
struct StandPlace {
    room::Point3 at;          ///< plan metres, z from the room's floor
    double distance_m = 0;    ///< from the mark's centre
    double off_wall_m = 0;    ///< from the wall's outer face, square to it
    double along_wall_m = 0;  ///< from the middle of the window, to the right seen from inside
    double height_above_ground_m = 0;  ///< of the lamp's middle
    double coverage = 0;               ///< of the mark, through the window
    std::vector<Obstacle> obstacles;   ///< none: reachable
    [[nodiscard]] bool is_reachable() const noexcept { return obstacles.empty(); }
};

/// "2.75 m off the wall's outer face, 0.41 m to the right of the window's middle (seen from
/// inside)".
[[nodiscard]] std::string beside_window_in_words(const StandPlace& place);

/// The place wished for and, where it can't be, another.
struct StandAnswer {
    StandPlace wanted;  ///< as wished for; of several distances the one with least against it
    /// Not from there: the reachable place that comes nearest; half as far counts as 2 degrees.
    std::optional<StandPlace> nearest;
    double nearest_off_deg = 0;  ///< between the two directions

    /// The place to use.
    [[nodiscard]] const StandPlace* place() const noexcept {
        return wanted.is_reachable() ? &wanted : nearest ? &*nearest : nullptr;
    }
};

/// @pre the scene's room has the wish's window and mark
[[nodiscard]] StandAnswer find_stand(const room::Scene& scene, const site::Lamp& lamp,
                                     const StandWish& wish);

/// A settled place, judged alone.
[[nodiscard]] StandPlace judge_stand(const room::Scene& scene, const site::Lamp& lamp,
                                     const StandWish& wish, room::Point3 at);

/// Another window that the lamp's light also enters.
struct AlsoEnters {
    std::size_t window = 0;    ///< index into Room::windows
    double open_share = 0;     ///< of its opening
    double level_lx = 0;       ///< at the middle of the opening, before its glass
    double mark_coverage = 0;  ///< of the key window's mark, through this window
};

/// What the lamp does from its place.
struct LampLight {
    Angle pan;        ///< off square to the wall; positive: to the right as the lamp looks
    Azimuth bearing;  ///< that the lamp looks along, true
    Angle tilt;       ///< negative: down
    std::vector<room::Patch> patches;       ///< on floor, walls and objects
    std::optional<room::Patch> on_ceiling;  ///< its surface is not set
    double level_lx = 0;                    ///< at the mark through the glass, times the coverage
    double bare_lx = 0;                     ///< the same without glass and opening
    double transmittance = 1;               ///< of the glass at that angle
    Angle incidence;                        ///< on the glass
    double fall_off_across_mark_stops = 0;  ///< from its near side to its far one
    double fall_off_to_wall_stops = 0;      ///< from the mark to the surface behind it
    Angle spread_across_mark;               ///< of the rays' directions; the sun's is none
    double entering_lm = 0;                 ///< through the window, past its glass
    double given_back_lx = 0;               ///< by the room, of that: a mean, good to a factor 2
    bool too_near = false;  ///< under five times the face: the level is good to some per cent
    std::vector<AlsoEnters> also_enters;  ///< where it is a hundredth of the key window's and more
};

/// What the mark has while the stand may be off: at the corners and the middles of the sides of a
/// cube of twice that size about its place, the lamp aimed at the mark from there.
struct StandDoubt {
    double within_m = 0;  ///< each way, and in height
    double least_coverage = 0, most_coverage = 0;
    double least_lx = 0, most_lx = 0;  ///< as LampLight::level_lx
};

/// @pre the place stands before the window; within_m >= 0
[[nodiscard]] StandDoubt stand_doubt(const room::Scene& scene, const site::Lamp& lamp,
                                     const StandWish& wish, const StandPlace& place,
                                     double within_m);

/// @pre the place stands before the window
[[nodiscard]] LampLight light_from(const room::Scene& scene, const site::Lamp& lamp,
                                   const StandWish& wish, const StandPlace& place);

/// How the lamp's patch differs from the sun's, on the surface behind the mark.
struct SunDifference {
    room::Surface surface;                   ///< behind the mark, along the sun's ray
    double lamp_m2 = 0, sun_m2 = 0;          ///< areas of the patches on it
    std::optional<double> centroid_apart_m;  ///< nothing where one of them has no patch there
    double lamp_edge_m = 0, sun_edge_m = 0;  ///< soft edges
    double growth = 1;                       ///< width of the lamp's to that of the sun's
    /// From which distance to the mark that growth stays below the share asked for.
    double alike_from_m = 0;
    StandPlace alike;  ///< the place there, judged
};

/// @param sun    unit vector towards it, plan axes
/// @param share  wanted: 0.1 for a patch at most a tenth wider than the sun's; above 0
[[nodiscard]] SunDifference difference(const room::Scene& scene, const site::Lamp& lamp,
                                       const StandWish& wish, const StandPlace& place,
                                       room::Point3 sun, Angle sun_diameter, double share);

/// A fill lamp inside, for a ratio.
struct FillWish {
    std::size_t mark = 0;     ///< index into Room::marks
    double key_lx = 0;        ///< at the mark
    double room_fill_lx = 0;  ///< what the room gives already
    double ratio = 4;         ///< n of n:1
    light::RatioConvention convention = light::RatioConvention::key_to_fill;
};

/// What the ratio asks of the fill, and where the lamp gives it.
struct FillAnswer {
    double wanted_fill_lx = 0;         ///< in all
    double lamp_lx = 0;                ///< of that from the lamp; 0 or below: the room gives enough
    std::optional<double> distance_m;  ///< at which the lamp, aimed at the mark, gives it
    double farthest_m = 0;             ///< corner of the room from the mark, on the level
    // Where the lamp has its place:
    std::optional<double> placed_m, placed_lx;  ///< distance to the mark, level there
    std::optional<double> placed_dim_stops;  ///< to be taken off it; negative: so much is missing
    std::optional<room::LimitingEdge> blocked;  ///< what stands between
};

/// The room gives nothing back of the fill in this sum. @pre lamp.place is inside, ratio can be had
[[nodiscard]] FillAnswer find_fill(const room::Room& room, const site::Lamp& lamp,
                                   const FillWish& wish);

}  // namespace keyhour::study
