#pragma once
/// @file
/// A shot as a line of the light log: what read/light_log.hpp reads.

#include <string>

#include "keyhour/study/logged_shot.hpp"

namespace keyhour::tell {

/// Without a line's end. Nothing in it can end the line, whatever the names hold.
/// @param level  as metered, "lux = 420" or "ev = 7.4"; may be empty
[[nodiscard]] std::string light_log_line(const study::LoggedShot& shot, const std::string& level);

}  // namespace keyhour::tell
