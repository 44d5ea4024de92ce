#pragma once
/// @file
/// From a compass reading to a true bearing.

#include <optional>
#include <string>
#include <tl/expected.hpp>

#include "keyhour/site/zone.hpp"
#include "keyhour/sun/observer.hpp"

namespace keyhour::read {

struct CompassReading {
    Angle declination;                    ///< to add, east positive
    std::optional<std::string> question;  ///< asked when no date was given, or a warning
    Angle uncertainty{};  ///< of the declination, one standard deviation; steel not included
};

/// @param what      the key that was read off the compass, for the question
/// @param measured  the day of the reading; without one the middle of the magnetic model's years
/// @return the correction, or why there is none (year too far off, field too weak)
[[nodiscard]] tl::expected<CompassReading, std::string> compass_reading(
    const Observer& observer, std::optional<site::LocalDate> measured,
    const char* what = "bearing");

}  // namespace keyhour::read
