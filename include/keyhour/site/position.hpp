#pragma once
/// @file
/// A position as people write it, and its read-back in words.

#include <string>
#include <tl/expected.hpp>

#include "keyhour/sun/angle.hpp"

namespace keyhour::site {

/// A place on the WGS 84 ellipsoid.
struct Coordinates {
    Angle latitude;   ///< geodetic, -90..90 degrees, north positive
    Angle longitude;  ///< -180 <= longitude < 180 degrees, east positive
};

/// Decimal degrees ("52.9536N 1.1505W", "52.9536 -1.1505"), degrees-minutes-seconds
/// ("52d57'13\"N 1d9'2\"W", "52:57:13N 1:09:02W"), UTM ("30n 624247 5870973") or MGRS of 1 km or
/// finer ("30UXD2470", the middle of the square): what GeographicLib::GeoCoords reads.
/// @return the place, or what was found and what is accepted
[[nodiscard]] tl::expected<Coordinates, std::string> read_position(const std::string& text);

/// "52.9536 degrees NORTH, 1.1505 degrees WEST".
[[nodiscard]] std::string in_words(const Coordinates& place);

/// "52 deg 57.22 min N, 1 deg 9.03 min W".
[[nodiscard]] std::string degrees_and_minutes(const Coordinates& place);

}  // namespace keyhour::site
