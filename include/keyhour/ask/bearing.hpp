#pragma once
/// @file
/// Which way does a wall face, as was observed, and what would make that surer?

#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "keyhour/ask/date_range.hpp"
#include "keyhour/site/location.hpp"
#include "keyhour/study/bearing.hpp"
#include "keyhour/study/next_observation.hpp"

namespace keyhour::ask {

struct BearingAnswer {
    study::BearingAnswer bearing;
    /// The most helpful first; none: the sun's series do not serve that date.
    std::optional<std::vector<study::NextObservation>> next;
};

/// study::bearing_of_wall; then, in the room turned to that bearing, study::next_observations on
/// the first of the dates.
/// @param location    as read, with a room
/// @param not_before  of what comes next: now, where the date is today
/// @param dates       1800-01-03 to 2199-12-27
/// @return or why not, a message each: an observation that can't be, or observations that
///         contradict each other
[[nodiscard]] tl::expected<BearingAnswer, std::vector<std::string>> bearing(
    const site::Location& location, const study::BearingQuestion& question, const DateRange& dates,
    std::optional<Instant> not_before = {});

}  // namespace keyhour::ask
