#pragma once
/// @file
/// A location: a site, the room that stands there, and the camera positions outside.

#include <optional>
#include <string>
#include <vector>

#include "keyhour/room/room.hpp"
#include "keyhour/site/horizon.hpp"
#include "keyhour/site/lamp.hpp"
#include "keyhour/site/lock_plan.hpp"
#include "keyhour/site/tree.hpp"
#include "keyhour/site/zone.hpp"
#include "keyhour/sun/observer.hpp"

namespace keyhour::site {

enum class AirClass { very_clear, normal, hazy };

struct Site {
    std::string name;
    Observer observer;
    Weather weather;
    Zone zone;
    Horizon horizon;
    HorizonSource horizon_source;
    AirClass air = AirClass::normal;
};

enum class Side { front, side, back, any };

/// Height of a lens at eye level above the ground. Common practice, no source.
inline constexpr double usual_eye_m = 1.6;

/// An exterior camera position.
struct Spot {
    std::string name;
    room::Point2 at;  ///< plan metres, if `on_plan`
    bool on_plan = false;
    std::optional<Observer> position;
    Angle camera_bearing;  ///< true
    Side wants = Side::any;
    Angle view = Angle::degrees(40);  ///< horizontal angle of view; upright 9:16 of it
    Angle tilt;                       ///< of the lens axis, up positive, -89..89 degrees
    std::optional<Angle>
        facade_faces;            ///< true bearing that the wall in the shot faces, square to it
    double eye_m = usual_eye_m;  ///< of the lens above the ground
    /// Its own far profile, where the site's horizon comes from terrain; else the site's holds.
    std::optional<Horizon> horizon;
};

struct Location {
    Site site;
    std::optional<room::Room> room;
    std::vector<Spot> spots;
    /// What stands around where there is no room; with a room they are in room->buildings. See
    /// buildings().
    std::vector<room::Building> buildings_without_room;
    std::vector<Tree> trees;
    std::vector<Lamp> lamps;
    std::optional<LockPlan> lock;  ///< as the file plans it; indices hold for these lists
    /// How far the clocks that times are read from may be off, s; nothing: not told.
    std::optional<double> clock_within_s;
    std::size_t imported_buildings = 0;  ///< of the buildings, the last so many are from footprints
    /// What looks wrong but may be right, as questions to the crew; never acted upon.
    std::vector<std::string> questions;
};

/// What stands around, on the plan: the room's, or the site's own where there is no room.
[[nodiscard]] inline const std::vector<room::Building>& buildings(const Location& location) {
    return location.room ? location.room->buildings : location.buildings_without_room;
}
[[nodiscard]] inline std::vector<room::Building>& buildings(Location& location) {
    return location.room ? location.room->buildings : location.buildings_without_room;
}

}  // namespace keyhour::site
