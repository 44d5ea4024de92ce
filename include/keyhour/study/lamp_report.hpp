#pragma once
/// @file
/// The whole answer about a lamp outside a window: its place, its light, the sun that it stands in
/// for, the room's own light beside it, the fill.

#include <optional>

#include "keyhour/study/lamp_stand.hpp"
#include "keyhour/study/mark_light.hpp"
#include "keyhour/study/room_study.hpp"

namespace keyhour::study {

/// A key that no sun gives: an angle from a camera, and a height.
struct WantedKey {
    std::size_t camera = 0;          ///< index into Room::cameras
    double key_angle_deg = 45;       ///< unsigned, 0..180
    double height_m = 2;             ///< of the lamp above the ground where it stands
    std::optional<bool> from_right;  ///< of the camera as seen from the mark; else the better one
};

/// A fill lamp, and the ratio that it is to give.
struct WantedFill {
    std::size_t lamp = 0;  ///< index into Location::lamps, one that stands inside
    double ratio = 4;      ///< n of n:1, above 1
    light::RatioConvention convention = light::RatioConvention::key_to_fill;
};

/// What is asked of one lamp; all indices hold for the location's lists.
struct LampQuestion {
    std::size_t lamp = 0;               ///< index into Location::lamps: outside, can be aimed
    std::size_t mark = 0;               ///< index into Room::marks
    std::optional<std::size_t> window;  ///< else the one through which it goes best
    /// Where the light should come from: one of the three; none: from where the lamp has its place.
    std::optional<Instant> like;  ///< as the sun's does then; the sun over a level horizon
    std::optional<WantedKey> key;
    bool through_middle = false;  ///< from the mark through the middle of the window

    std::optional<std::size_t>
        camera;  ///< for the key angle told; else that of `key`, or the first
    std::optional<double> distance_m, ground_below_m;  ///< the ground: else floor_above_ground_m
    double farthest_m = StandWish{}.farthest_m;        ///< from the mark
    double coverage = StandWish{}.coverage;            ///< of the mark, 0..1
    std::optional<Instant> room_light_at;  ///< of the hour of the shot; else it is dark outside
    double alike_share = 0.1;              ///< by which its patch may be wider than the sun's
    std::optional<Seconds> hold;           ///< for how long it must burn
    std::optional<WantedFill> fill;        ///< else no fill is asked for
    /// The key is the sun itself at `like`; only the fill is asked for.
    bool sun_is_key = false;
};

/// The sun that the lamp stands in for.
struct SunToMatch {
    Instant at;
    room::Point3 toward;           ///< unit vector, plan axes
    sun::Position position;        ///< over the site
    double coverage = 0;           ///< of the mark, through the window
    double direct_lx = 0;          ///< past the glass; clear air, likely
    std::optional<double> kelvin;  ///< of the direct light; nothing where there is no model
};

/// The answer.
struct LampReport {
    StandWish wish;                       ///< as it came of the question
    StandAnswer stand;                    ///< where the lamp goes
    std::optional<double> key_angle_deg;  ///< of the place, by that camera
    std::optional<std::size_t> camera;    ///< index into Room::cameras
    bool in_frame = false;           ///< the lamp stands in that camera's frame, were there no wall
    std::optional<SunToMatch> sun;   ///< if `like` was asked for
    std::optional<LampLight> light;  ///< nothing if no place is left
    std::optional<StandDoubt> doubt;                ///< with the light
    std::optional<SunDifference> difference;        ///< from that sun
    double room_key_side_lx = 0, room_fill_lx = 0;  ///< without the lamp; forges are fill
    double forges_lx = 0;                           ///< of that fill, what forges give
    light::KeyAndFill levels;                       ///< with it; of the sun if that is the key
    std::optional<double> mired_from_sun;  ///< positive: the lamp is warmer than the sun was
    std::optional<FillAnswer> fill;        ///< if one was asked for
};

/// @param light  made of the same study; wanted only for the room's own light, else null
/// @pre the lamps, mark, window and camera of the question are there; with `sun_is_key` a light,
///      `like` and a window
[[nodiscard]] LampReport report_lamp(const RoomStudy& study, const RoomLight* light,
                                     const LampQuestion& question);

}  // namespace keyhour::study
