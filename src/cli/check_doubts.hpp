#pragma once
// How far each figure of a location may be off, as `check` tells it.

#include <iosfwd>

#include "keyhour/site/location.hpp"
#include "tell/document.hpp"

namespace keyhour::cli {

void print_doubts(const site::Location& location, std::ostream& out);

/// A list: one object for each figure that may be off.
[[nodiscard]] tell::Json json_of_doubts(const site::Location& location);

}  // namespace keyhour::cli
