#pragma once
/// @file
/// The light sheet on a map: GeoJSON (RFC 7946), WGS 84, longitude before latitude.

#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "document.hpp"
#include "sheet_page.hpp"

namespace keyhour::tell {

/// How far the lines towards the sun reach, m.
inline constexpr double bearing_line_m = 500;

/// Site, room and spots: what does not depend on a date.
[[nodiscard]] Json geojson_places(const site::Location& location);

/// Lines towards the sun at rise and set, and from each key's mark at its start, middle and end; at
/// each spot the shadow of a person at the whole hours of direct light.
/// Geodesics: GeographicLib.
[[nodiscard]] Json geojson_of_day(const SheetContent& content,
                                  const std::shared_ptr<const study::SharedTrack>& shared);

/// A feature collection of such lists of features.
[[nodiscard]] std::string geojson(const site::Location& location, const std::vector<Json>& parts);

}  // namespace keyhour::tell
