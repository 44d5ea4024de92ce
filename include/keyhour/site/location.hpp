#pragma once
/// @file
/// A location: a site, the room that stands there, and the camera positions outside.

#include <optional>
#include <string>
#include <vector>

#include "keyhour/room/room.hpp"
#include "keyhour/site/found_light.hpp"
#include "keyhour/site/horizon.hpp"
#include "keyhour/site/lamp.hpp"
#include "keyhour/site/lock_plan.hpp"
#include "keyhour/site/tree.hpp"
#include "keyhour/site/zone.hpp"
#include "keyhour/sun/observer.hpp"

namespace keyhour::site {

/// How clear the air usually is at the site; the light layer has a turbidity for each (light::Air).
enum class AirClass { very_clear, normal, hazy };

/// A place on the Earth, its clocks and what it sees of the sky.
struct Site {
    std::string name;              ///< may be empty
    Observer observer;             ///< WGS 84; elevation above the sea, m
    Weather weather;               ///< for refraction
    Zone zone;                     ///< of its clocks
    Horizon horizon;               ///< the far skyline from the site's own eye
    HorizonSource horizon_source;  ///< for the read-back
    AirClass air = AirClass::normal;
};

/// Where light comes from, seen from the camera: within 60 degrees of the lens axis front, beyond
/// 120 back (study::SpotSettings), between them side.
enum class Side { front, side, back, any };

/// Height of a lens at eye level above the ground. Common practice, no source.
inline constexpr double usual_eye_m = 1.6;

/// An exterior camera position.
struct Spot {
    std::string name;  ///< each spot's own
    room::Point2 at;   ///< plan metres, if `on_plan`
    bool on_plan = false;
    std::optional<Observer> position;  ///< WGS 84; nothing if it stands on the plan
    Angle camera_bearing;              ///< that the lens looks along, true
    Side wants = Side::any;            ///< of the direct light
    Angle view = Angle::degrees(40);   ///< horizontal angle of view; upright 9:16 of it
    Angle tilt;                        ///< of the lens axis, up positive, -89..89 degrees
    std::optional<Angle>
        facade_faces;            ///< true bearing that the wall in the shot faces, square to it
    double eye_m = usual_eye_m;  ///< of the lens above the ground
    /// Its own far profile, where the site's horizon comes from terrain; else the site's holds.
    std::optional<Horizon> horizon;
};

/// All that a location file says, read and checked. Lists keep the file's order.
struct Location {
    Site site;
    std::optional<room::Room> room;  ///< as measured; in season only after site::in_season
    std::vector<Spot> spots;         ///< outside
    /// What stands around where there is no room; with a room they are in room->buildings. See
    /// buildings().
    std::vector<room::Building> buildings_without_room;
    std::vector<Tree> trees;       ///< not yet among the buildings: see site::in_season
    std::vector<Lamp> lamps;       ///< inside and outside
    std::optional<LockPlan> lock;  ///< as the file plans it; indices hold for these lists
    FoundLight found;              ///< what no model gives: forges, and the recce's meter
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
