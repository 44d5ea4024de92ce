#pragma once
/// @file
/// Rigging counted back from the minute at which all must stand.

#include <optional>
#include <vector>

#include "keyhour/site/rigging.hpp"
#include "keyhour/sun/instant.hpp"

namespace keyhour::study {

/// What a task takes a crew: the minutes given for the largest crew not above it.
/// @return nothing if the task needs more people
[[nodiscard]] std::optional<Seconds> length_of(const site::Task& task, int crew) noexcept;

struct TimedTask {
    std::size_t task = 0;  ///< index into Rigging::tasks
    Instant from, to;
};

struct Timetable {
    int crew = 1;
    std::vector<TimedTask> tasks;  ///< one after the other, without gaps, in the order given
    Instant start, ready_by;
    std::optional<std::size_t> needs_more;  ///< first task that so few can't do; then no tasks
};

/// The tasks done in turn by the whole crew, the last one ending at `ready_by`.
[[nodiscard]] Timetable count_back(const site::Rigging& rigging, int crew, Instant ready_by);

/// Crew sizes that the tasks name, ascending, each once; with the crew that was asked for.
[[nodiscard]] std::vector<int> crew_sizes(const site::Rigging& rigging);

}  // namespace keyhour::study
