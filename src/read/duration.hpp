#pragma once
/// @file
/// A length of time as people write it, and as the answers print it: "90 min", "1 h 21 min".

#include <optional>
#include <string_view>

#include "keyhour/sun/instant.hpp"

namespace keyhour::read {

/// Hours, minutes and seconds, each at most once, the larger first, with their units: h, min, s,
/// written out as well. Minutes after hours may do without: "1h30".
/// @return the time, zero or more; nothing if the text is something else, a plain number too
[[nodiscard]] std::optional<Seconds> read_duration(std::string_view text);

}  // namespace keyhour::read
