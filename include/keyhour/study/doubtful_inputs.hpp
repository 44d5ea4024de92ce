#pragma once
/// @file
/// What of a location may be off, and the location as it would be if it were off by so much.
///
/// Every doubt is taken as a range, stated value less `within` to stated value plus `within`, in
/// which all values are equally likely: what is known of them is no more than such limits (JCGM
/// 100:2008, the GUM, 4.3.7). So the ensemble's bearings are those of the sure and possible parts.
/// All windows share one draw, each moved by its own doubt; so do all marks, all points of the
/// skyline, all cameras, and all heights and places outside: an answer about one window and one
/// mark does not care. A floor grows or shrinks about its first corner.

#include <array>
#include <string>

#include "keyhour/site/location.hpp"
#include "keyhour/study/quasi_random.hpp"

namespace keyhour::study {

enum class Input {
    mark_place,
    mark_height,
    left,
    width,
    sill,
    height,
    reveal,
    bearing,
    clock,
    refraction,
    skyline,
    heights_outside,
    places_outside,  ///< of buildings and trees
    camera_place,
    floor  ///< its lengths
};
inline constexpr std::size_t input_count = 15;

/// How much of each input's doubt there is: 1 all, 0.5 half of it, 0 none, it is known exactly.
using DoubtScale = std::array<double, input_count>;
inline constexpr DoubtScale whole_doubt{1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1};

/// How far off each input is, as a share of its doubt, -1..1.
struct Draw {
    double mark_x = 0, mark_y = 0;
    double outside_x = 0, outside_y = 0, camera_x = 0, camera_y = 0;
    std::array<double, input_count> of{};  ///< by Input; those of places are not used
    [[nodiscard]] double operator[](Input i) const { return of[static_cast<std::size_t>(i)]; }

    /// From a point of the unit cube.
    Draw(const CubePoint& point, const DoubtScale& scale) noexcept;
};

/// The location, moved by the draw, its bearing without doubt. Openings are kept within their walls
/// and marks above the floor. The clock's part moves no location: see clock_off.
[[nodiscard]] site::Location moved(const site::Location& location, const Draw& draw);

/// What the clock shows less what it should, in this draw.
[[nodiscard]] Seconds clock_off(const site::Location& location, const Draw& draw);

/// Does this input of the location have any doubt at all?
[[nodiscard]] bool in_doubt(const site::Location& location, Input input);

}  // namespace keyhour::study
