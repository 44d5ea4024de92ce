#pragma once
/// @file
/// A location: a site, the room that stands there, and the camera positions outside.

#include <optional>
#include <string>
#include <vector>

#include "keyhour/room/room.hpp"
#include "keyhour/site/horizon.hpp"
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
    AirClass air = AirClass::normal;
};

enum class Side { front, side, back, any };

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
        facade_faces;  ///< true bearing that the wall in the shot faces, square to it
};

struct Location {
    Site site;
    std::optional<room::Room> room;
    std::vector<Spot> spots;
    /// What looks wrong but may be right, as questions to the crew; never acted upon.
    std::vector<std::string> questions;
};

}  // namespace keyhour::site
