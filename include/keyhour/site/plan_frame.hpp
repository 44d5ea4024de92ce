#pragma once
/// @file
/// How the plan lies on the Earth.

#include "keyhour/room/plan.hpp"
#include "keyhour/site/location.hpp"
#include "keyhour/site/position.hpp"

namespace keyhour::site {

/// The plan's origin lies at the site's position; its +y axis has the bearing that the room's wall
/// gives it, and points to true north where there is no room. Distances are those of the level
/// plane that touches the Earth at the site: 10 km off, that plane stands 8 m above the ground and
/// a distance in it is short by 4 mm.
class PlanFrame {
public:
    explicit PlanFrame(const Location& location);
    /// The same place with the plan turned, for the bearing's doubt.
    PlanFrame(const Coordinates& origin, Azimuth bearing_of_y);

    [[nodiscard]] Azimuth bearing_of_y() const noexcept { return bearing_; }

    /// Where a place stands on the plan, whatever its elevation. Source of the geodesy:
    /// GeographicLib::LocalCartesian about the site.
    [[nodiscard]] room::Point2 on_plan(const Coordinates& place) const;
    /// The place under a point of the plan. Within 0.1 mm the inverse of on_plan up to 10 km off.
    [[nodiscard]] Coordinates on_earth(room::Point2 at) const;

private:
    Coordinates origin_;
    Azimuth bearing_;
};

/// Height of the ground about the site on the plan: 0 without a room.
[[nodiscard]] double ground_m(const Location& location) noexcept;

/// Where a spot stands on the plan, whichever way it was given.
[[nodiscard]] room::Point2 on_plan(const Location& location, const Spot& spot);

/// The lens of a spot: its place, and its height above the room's floor.
[[nodiscard]] room::Point3 eye_of(const Location& location, const Spot& spot);

/// The observer at a spot, at the site's elevation.
[[nodiscard]] Observer observer_at(const Location& location, const Spot& spot);

}  // namespace keyhour::site
