#pragma once
/// @file
/// What the recce's meter readings did to the levels, and what looks wrong about them.

#include <string>
#include <vector>

#include "document.hpp"
#include "keyhour/site/zone.hpp"
#include "keyhour/study/meter_correction.hpp"

namespace keyhour::tell {

/// "corrected by the meter: fill 1.4 times the file's; 12 February 11:30 at seat: 420 lx, 0.5 stops
/// over what was expected; corrects the fill". None without readings.
[[nodiscard]] std::vector<std::string> meter_lines(const study::MeterCorrection& correction,
                                                   const site::Zone& zone);

/// What looks wrong about the readings, as questions to the crew.
[[nodiscard]] std::vector<std::string> meter_questions(const study::MeterCorrection& correction,
                                                       const site::Zone& zone);

/// {glass, fill, readings}; null without readings.
[[nodiscard]] Json json_of(const study::MeterCorrection& correction);

}  // namespace keyhour::tell
