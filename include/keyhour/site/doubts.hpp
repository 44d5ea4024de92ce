#pragma once
/// @file
/// How far each measured figure of a location may be off: as the file says, or the usual for how it
/// is measured. All are half the width of the range in which the true figure lies.
///
/// The usual ones: common practice, no source. A steel tape is read to 5 or 10 mm against an edge
/// that is seldom straight; an offset along a wall to 1 to 3 cm; a subject does not sit on a cross
/// of tape to better than some 5 cm; an inclinometer on a ridge to half a degree or a degree; the
/// height of a house opposite, from an angle and a paced distance, to a twentieth.

#include <optional>

#include "keyhour/site/location.hpp"

namespace keyhour::site {

inline constexpr double usual_opening_within_m = 0.01;  ///< width, sill, height, reveal
inline constexpr double usual_left_within_m = 0.02;
inline constexpr double usual_mark_within_m = 0.05;    ///< each way on the plan, and in height
inline constexpr double usual_floor_within_m = 0.02;   ///< of its longest length
inline constexpr double usual_camera_within_m = 0.1;   ///< each way: a tripod, set up by eye
inline constexpr double usual_lamp_within_m = 0.1;     ///< each way: a stand, set up by tape
inline constexpr double usual_clock_within_s = 1;      ///< a phone that has had signal that day
inline constexpr double usual_building_within = 0.05;  ///< of the height
/// Of the refraction, above some 5 degrees: pressure and temperature of the day against those
/// assumed (3 % and 5 % of them, together less than a tenth).
inline constexpr double usual_refraction_within = 0.1;

struct LengthDoubt {
    double within_m = 0;
    bool given = false;  ///< by the file; else it is the usual one
};

struct WindowDoubts {
    LengthDoubt left, width, sill, height, reveal;
};
struct MarkDoubts {
    LengthDoubt at, height;  ///< at: each way on the plan
};

[[nodiscard]] WindowDoubts doubts(const room::Window& window) noexcept;
[[nodiscard]] MarkDoubts doubts(const room::Mark& mark) noexcept;

[[nodiscard]] LengthDoubt doubt(const room::Camera& camera) noexcept;

[[nodiscard]] LengthDoubt doubt(const Lamp& lamp) noexcept;

/// Of the floor's longest length.
[[nodiscard]] LengthDoubt floor_doubt(const room::Room& room) noexcept;

/// Of the place of a building or a tree, each way on the plan, m. The usual one is a twentieth of
/// its distance from the room (from the plan's origin, where there is none), as what is paced out
/// or drawn from a map is; 0.05 at least, 1 at most. Common practice, no source.
[[nodiscard]] LengthDoubt place_doubt(const room::Building& building,
                                      const Location& location) noexcept;
[[nodiscard]] LengthDoubt place_doubt(const Tree& tree, const Location& location) noexcept;

/// Seconds; the file's, or the usual.
[[nodiscard]] double clock_within_s(const Location& location) noexcept;

/// Of the skyline's altitudes, by where they were had from. Zero where none is given: a level
/// skyline is no measurement.
[[nodiscard]] Angle horizon_within(const Site& site) noexcept;

/// Share of the refraction by which it may be off.
/// @param apparent  altitude, degrees; below 5 it grows, to a half at the horizon, where it varies
///                  by 0.16 degrees (Schaefer & Liller, Refraction near the horizon, PASP 102,
///                  1990; from memory), which is taken for a standard deviation
[[nodiscard]] double refraction_within(double apparent_deg) noexcept;

}  // namespace keyhour::site
