#pragma once
/// @file
/// The tables of a location file that tell of its light beside windows and lamps.

#include "fields.hpp"
#include "keyhour/site/found_light.hpp"
#include "keyhour/site/location.hpp"

namespace keyhour::read {

/// [[forge]]
/// @pre location.room has been read
void read_forges(Fields& root, const site::Location& location, site::FoundLight& out,
                 Findings& findings);

/// [[meter]]: what an incident meter showed on the recce.
/// @pre location.site and room have been read
void read_meters(Fields& root, const site::Location& location, site::FoundLight& out,
                 Findings& findings);

}  // namespace keyhour::read
