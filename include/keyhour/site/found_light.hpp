#pragma once
/// @file
/// What the recce found of a room's light beside windows and lamps.

#include <vector>

#include "keyhour/site/forge.hpp"
#include "keyhour/site/meter_reading.hpp"

namespace keyhour::site {

/// What the file says of light that no model gives. Either list may be empty.
struct FoundLight {
    std::vector<Forge> forges;           ///< fires, and lamps that stay on
    std::vector<MeterReading> readings;  ///< in the order of the file
    /// Then nothing is corrected.
    [[nodiscard]] bool empty() const { return forges.empty() && readings.empty(); }
};

}  // namespace keyhour::site
