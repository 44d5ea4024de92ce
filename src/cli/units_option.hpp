#pragma once
// --units: lengths as the crew reads them, whatever the file says.

#include <string>

#include "failure.hpp"
#include "keyhour/site/recce.hpp"
#include "options.hpp"

namespace keyhour::cli {

void offer_units(Options& command, std::string& units);

/// How a location was measured, as its file says (none: nothing is said), and the units of the flag
/// where it is given.
[[nodiscard]] Answer<site::Recce> recce_of(const std::string& file, const std::string& units);

}  // namespace keyhour::cli
