#pragma once
/// @file
/// Light thrown back into the room by a building opposite: the sun's image in glass, or white
/// render that the sun stands on.

#include <vector>

#include "keyhour/study/room_study.hpp"
#include "keyhour/study/spans.hpp"

namespace keyhour::study {

/// One visit of thrown-back light to a window.
struct ThrownBack {
    Span span;
    /// Glass: indices of the marks of which at least 5 % is lit, in the middle of the span.
    std::vector<std::size_t> marks;
};

/// One facade and one window: every visit within the time asked for.
struct FacadeLight {
    std::size_t building = 0;  ///< index into Room::buildings
    std::size_t window = 0;    ///< index into Room::windows
    room::Facade::Kind kind = room::Facade::Kind::glass;
    std::vector<ThrownBack> visits;
};

/// Facades that throw light into a window, at the stated bearing.
/// Glass is one upright mirror: the ray from the window's middle towards the sun's image must meet
/// the facade between its ends, its bottom and its top; nothing may stand between, and that point
/// of the facade must be in the sun. White render counts as a soft source while its middle is in
/// the sun and in view of the window's middle. The window's cover is not looked at.
/// Real panes are never quite flat or upright: the image wanders by degrees and breaks into pieces.
/// @param from, to  in the track's range
[[nodiscard]] std::vector<FacadeLight> facade_light(const RoomStudy& study, Instant from,
                                                    Instant to);

/// The direction in which the sun's image stands behind an upright mirror.
/// @param sun     unit vector to the sun, plan axes
/// @param normal  of the mirror, a level unit vector
[[nodiscard]] room::Point3 mirrored(room::Point3 sun, room::Point2 normal) noexcept;

}  // namespace keyhour::study
