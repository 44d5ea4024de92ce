#pragma once
/// @file
/// What a location file says of how it was measured, and in which units its crew reads. No question
/// about light needs it, so a location does not carry it.

#include <optional>

#include "keyhour/site/units.hpp"
#include "keyhour/site/zone.hpp"

namespace keyhour::site {

/// Read from the same file as the location; no question about light needs it.
struct Recce {
    Units units = Units::metres;                ///< that its crew reads
    std::optional<LocalDate> bearing_measured;  ///< the day on which the bearing was read
    bool bearing_within_given = false;          ///< else the bearing's doubt is the usual one
};

}  // namespace keyhour::site
