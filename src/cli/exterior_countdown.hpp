#pragma once
// exterior's countdown: what is left of the light at the places outside, and what still fits.

#include <span>
#include <vector>

#include "tell/countdown_lines.hpp"

namespace keyhour::cli {

struct CountdownFound {
    std::vector<tell::SpotCountdown> spots;
    std::optional<Instant> from;  // nothing: not asked from when on
    std::vector<study::TimedShot> order;
};

/// @param days  of the lights, one each
CountdownFound countdown_of(std::span<const study::SpotLight> lights,
                            std::span<const study::SpotDay> days,
                            const std::optional<Instant>& from);

}  // namespace keyhour::cli
