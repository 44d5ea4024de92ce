#pragma once
/// @file
/// Do the position and the time zone belong together?

#include <optional>
#include <string>

#include "keyhour/site/position.hpp"
#include "keyhour/site/zone.hpp"

namespace keyhour::site {

struct PlaceDoubt {
    bool is_error = false;  ///< else a question to the crew
    std::string message;
};

/// Compares the position with the zone's standard offset from UTC, and with the principal place
/// that the system's zone table gives for it (zone1970.tab; without one, the offset alone).
/// More than three hours apart is an error if exchanging latitude and longitude, or turning east
/// into west, would bring them together; otherwise, and for a hemisphere that looks wrong at less
/// than three hours, it is a question. Nothing is ever converted.
[[nodiscard]] std::optional<PlaceDoubt> check_place(const Coordinates& place, const Zone& zone);

}  // namespace keyhour::site
