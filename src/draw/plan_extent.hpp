#pragma once
// Which part of the plan is drawn, at what scale, and what lies beyond.

#include <optional>
#include <string>
#include <vector>

#include "drawing.hpp"
#include "keyhour/site/location.hpp"
#include "labels.hpp"

namespace keyhour::draw {

/// A wall is as thick as the deepest reveal in it; this where it has none, m. Common practice, no
/// source.
inline constexpr double usual_wall_m = 0.3;

[[nodiscard]] double wall_thickness(const room::Room& room, std::size_t wall);

/// Outer faces of the walls: corner i belongs to corner i of the floor.
[[nodiscard]] room::Ring outer_faces(const room::Room& room);

struct PlanExtent {
    PlanScale scale;
    Box paper;           ///< of the plan itself, user units
    double one_to = 50;  ///< the scale, 1 to this
    [[nodiscard]] Point2 at(Point2 plan) const { return scale.to_drawing(plan); }
    [[nodiscard]] std::vector<Point2> at(const room::Ring& ring) const;
};

[[nodiscard]] PlanExtent plan_extent(const site::Location& location, const DrawingFrame& frame);

/// The part of a ring within the box (Sutherland and Hodgman's clipping; a concave ring may come
/// out with edges along the box).
[[nodiscard]] std::vector<Point2> clipped(const std::vector<Point2>& ring, const Box& box);

[[nodiscard]] Point2 centroid(const std::vector<Point2>& ring);

/// Shortest distance between two outlines, 0 where a corner of one lies within the other.
[[nodiscard]] double distance_between(const room::Ring& a, const room::Ring& b);

}  // namespace keyhour::draw
