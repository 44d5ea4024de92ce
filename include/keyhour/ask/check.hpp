#pragma once
/// @file
/// What a location's figures come to that its file does not say: hours of sun through each window
/// over a year, and what a meter's readings say of the levels.

#include <date/date.h>

#include <vector>

#include "keyhour/site/location.hpp"
#include "keyhour/study/meter_correction.hpp"
#include "keyhour/study/window_hours.hpp"

namespace keyhour::ask {

struct CheckAnswer {
    date::year year{};
    std::vector<study::WindowHours> sun;  ///< one a window; empty without a room
    /// Of the meter's readings; empty without a room, or without readings.
    study::MeterCorrection meter;
};

/// study::window_hours and study::meter_correction of a location as read.
/// @pre year lies in 1801..2198, which the sun's series serve with their margins
[[nodiscard]] CheckAnswer check(const site::Location& location, date::year year);

}  // namespace keyhour::ask
