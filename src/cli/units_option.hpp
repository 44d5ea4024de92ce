#pragma once
// --units: lengths as the crew reads them, whatever the file says.

#include <string>

#include "failure.hpp"
#include "keyhour/site/recce.hpp"
#include "options.hpp"
#include "read/changes.hpp"

namespace keyhour::cli {

void offer_units(Options& command, std::string& units);

/// How a location was measured, as its file says (none: nothing is said), and the units of the flag
/// where it is given. @param changes  to the file
[[nodiscard]] Answer<site::Recce> recce_of(const std::string& file, const std::string& units,
                                           const read::Changes& changes = {});

}  // namespace keyhour::cli
