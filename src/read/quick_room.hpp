#pragma once
/// @file
/// A location without a file: one rectangular room with one window, from a few flags, for a first
/// answer in ten seconds. The same checks as a file's apply.

#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "keyhour/site/location.hpp"

namespace keyhour::read {

/// Lengths are texts as in a location file: metres as "0.9", or with a unit, "35 in".
struct QuickRoom {
    std::string position;  ///< as in [site]
    std::string zone;      ///< IANA name or POSIX TZ string
    double faces_deg = 0;  ///< of the window's wall, looking out, 0..360
    bool magnetic = false;
    std::optional<double> within_deg;     ///< 2, or 5 when magnetic, unless given
    std::string window;                   ///< width x height of the clear opening: "1.2 x 1.5 m"
    std::string sill;                     ///< above the floor
    std::string reveal;                   ///< depth of the opening
    std::string room;                     ///< along the window's wall x depth: "5 x 4 m"
    std::string height = "3 m";           ///< of the room
    std::string mark;                     ///< distance of the mark from the window's wall
    std::string mark_height = "1.2 m";    ///< of its centre above the floor
    std::optional<std::string> camera;    ///< to the right of the window's centre line, facing the
                                          ///< window (minus: left) x distance from its wall
    std::string camera_height = "1.2 m";  ///< above the floor
    double view_deg = 40;                 ///< horizontal, 1..170
};

/// The plan: x along the window's wall, whose right-hand corner, seen from inside, is the origin;
/// y into the room. Walls are called "window", "left", "back" and "right", as seen facing the
/// window; window, mark and camera are called "window", "mark" and "A". The window is centred on
/// its wall and the mark stands on the window's centre line.
/// @return the location, or every complaint
[[nodiscard]] tl::expected<site::Location, std::vector<std::string>> location_of(
    const QuickRoom& quick);

}  // namespace keyhour::read
