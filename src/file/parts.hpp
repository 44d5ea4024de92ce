#pragma once
/// @file
/// The parts of a location file, each read from its table.

#include "fields.hpp"
#include "keyhour/site/location.hpp"

namespace keyhour::file {

/// [site]; what could not be read keeps its default and is in the findings.
[[nodiscard]] site::Site read_site(Fields& root, Findings& findings,
                                   std::vector<std::string>& questions);

/// [room], [[window]], [[mark]], [[camera]], [[object]], [[building]]; nothing without a [room].
/// @param questions  receives what looks odd
[[nodiscard]] std::optional<room::Room> read_room(Fields& root, const site::Site& site,
                                                  Findings& findings,
                                                  std::vector<std::string>& questions);

/// [[spot]]
[[nodiscard]] std::vector<site::Spot> read_spots(Fields& root, bool has_room, Findings& findings);

/// A position in any form that GeoCoords reads, or a complaint.
[[nodiscard]] std::optional<Observer> read_position(Fields& fields, Need need);

}  // namespace keyhour::file
