#pragma once
/// @file
/// The light sheet on a map: GeoJSON (RFC 7946), WGS 84, longitude before latitude.

#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "document.hpp"
#include "sheet_content.hpp"

namespace keyhour::tell {

/// Site, room and spots: what does not depend on a date.
[[nodiscard]] Json geojson_places(const site::Location& location);

/// For each key the ground outside its window that must stay clear of people and cars, and of vans
/// and stands, while it holds; where the shadows of buildings near the site lie when a key begins
/// and ends, and direct sun at a place outside.
[[nodiscard]] Json geojson_of_day(const SheetContent& content,
                                  const std::shared_ptr<const study::SharedTrack>& shared);

/// A feature collection of such lists of features.
[[nodiscard]] std::string geojson(const site::Location& location, const std::vector<Json>& parts);

}  // namespace keyhour::tell
