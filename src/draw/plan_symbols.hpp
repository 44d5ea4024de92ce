#pragma once
// Symbols of the plan. The lamp's outline and its stand follow USITT RP-2 (Recommended Practice for
// Theatrical Lighting Design Graphics) from memory; it has none for cameras, marks and norths,
// which are drawn as film floor plans usually have them (common practice, no source).

#include "labels.hpp"

namespace keyhour::draw {

/// A unit vector on the drawing, y down.
[[nodiscard]] Point2 turned(Point2 u, double degrees);

/// A body and a lens that points along `toward`.
void draw_camera(Svg& svg, Point2 at, Point2 toward);

/// A lamp with a lens on a floor stand, pointing along `toward`.
void draw_lamp(Svg& svg, Point2 at, Point2 toward);

/// A lamp that hangs and shines down: a street or yard lamp.
void draw_hanging_lamp(Svg& svg, Point2 at);

/// A cross; the ring or box round it is drawn to scale by the caller.
void draw_mark(Svg& svg, Point2 at);

/// Alternating black and white, figures above, in metres or feet. @return its width
double draw_scale_bar(Svg& svg, Point2 left_end, double mm_per_m, double most_mm,
                      site::Units units);

/// Is magnetic north known, and far enough from true north to be drawn beside it?
[[nodiscard]] bool is_told_apart(double magnetic_east_deg);

/// True north, and magnetic north beside it where the two are told apart.
/// @param north  unit vector to true north on the drawing
/// @param magnetic_east_deg  declination; NaN where it is not known
void draw_norths(Svg& svg, Point2 middle, double radius, Point2 north, double magnetic_east_deg);

/// What they take up, about their middle at 0, 0.
[[nodiscard]] Box norths_box(double radius, Point2 north, double magnetic_east_deg);

}  // namespace keyhour::draw
