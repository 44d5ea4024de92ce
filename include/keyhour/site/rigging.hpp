#pragma once
/// @file
/// Rigging as the crew plans it: tasks, their minutes by crew size, the call.

#include <chrono>
#include <optional>
#include <string>
#include <vector>

namespace keyhour::site {

/// How long a task takes so many people.
struct TaskMinutes {
    int crew = 1;        ///< people, 1..50
    double minutes = 0;  ///< above 0, up to 1440
};

/// A piece of work before the first take.
struct Task {
    std::string name;                  ///< in the words of the crew
    std::vector<TaskMinutes> by_crew;  ///< one or more, ascending by crew; minutes never rise
};

/// What a cover overlaps its opening on each side. Common practice, no source.
inline constexpr double usual_overlap_m = 0.15;

/// The file's [rigging] and its tasks; without tasks nothing is counted back.
struct Rigging {
    std::optional<int> crew;                   ///< people on the rigging
    std::optional<std::chrono::seconds> call;  ///< local time of the day, since midnight
    double overlap_m = usual_overlap_m;        ///< of cloth, on each side
    std::vector<Task> tasks;                   ///< in the order in which they are done
};

}  // namespace keyhour::site
