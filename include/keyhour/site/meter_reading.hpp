#pragma once
/// @file
/// What an incident meter read on the recce.

#include <optional>
#include <string>

#include "keyhour/light/overcast.hpp"
#include "keyhour/room/plan.hpp"
#include "keyhour/sun/instant.hpp"

namespace keyhour::site {

/// One reading of an incident light meter.
struct MeterReading {
    std::string where;  ///< the mark's name, or the place in words
    /// Inside: on a receptor turned to the window that gives most there. Outside: on a level one in
    /// the open, in the sun if it shines.
    std::optional<room::Point3> inside_at;
    Instant at;                             ///< when it was read
    double lx = 0;                          ///< > 0
    light::Cloud sky = light::Cloud::none;  ///< as it was then
};

}  // namespace keyhour::site
