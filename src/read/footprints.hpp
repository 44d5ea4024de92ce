#pragma once
/// @file
/// Buildings around a site from GeoJSON (RFC 7946): their outlines, and a property for the height.

#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "keyhour/room/room.hpp"
#include "keyhour/site/plan_frame.hpp"
#include "problem.hpp"

namespace keyhour::read {

struct FootprintWish {
    std::string height_property = "height";  ///< metres above the ground
    double within_m = 1000;                  ///< of the site; what lies wholly beyond is left out
    room::Ring room_floor;  ///< a footprint over it is the room's own house; empty without a room
    std::vector<std::string> taken_names;  ///< of buildings in the location file
};

struct Footprints {
    /// On the plan, each name once. A part of a MultiPolygon, or a piece of an outline with a
    /// court, has its number behind the name.
    std::vector<room::Building> buildings;
    std::vector<std::string> questions;  ///< what was left out, and why
};

/// Reads every Polygon and MultiPolygon of a FeatureCollection, a Feature, a GeometryCollection or
/// a bare geometry; other geometries are no buildings and are passed over. Heights are numbers of
/// metres or text such as "9.5" or "30 ft"; a footprint without one is asked about, not guessed.
/// @return the buildings, or every problem with its JSON path (line and column of a syntax error)
[[nodiscard]] tl::expected<Footprints, std::vector<Problem>> read_footprints(
    const std::string& path, const site::PlanFrame& frame, const site::Coordinates& site,
    const FootprintWish& wish);

/// The same for a text in memory.
/// @param name  how problems call it
[[nodiscard]] tl::expected<Footprints, std::vector<Problem>> read_footprints_text(
    const std::string& text, const std::string& name, const site::PlanFrame& frame,
    const site::Coordinates& site, const FootprintWish& wish);

}  // namespace keyhour::read
