#pragma once
/// @file
/// What a recce should measure next: which figures of a location make its keys unsure, which are
/// ranges still, and what the file says nothing of.

#include <optional>
#include <vector>

#include "keyhour/ask/date_range.hpp"
#include "keyhour/site/location.hpp"
#include "keyhour/study/key_doubt.hpp"

namespace keyhour::ask {

struct RecceStep {
    study::InputEffect effect;  ///< its share is 0 where no interval could be judged
    bool is_range = false;      ///< a range stands in the file: it was not measured yet
};

/// What a file may leave out.
enum class NotInFile { mark, window, camera, skyline, outside, true_bearing };

struct RecceAnswer {
    DateRange dates;
    std::size_t intervals = 0;
    Seconds hold{0}, hold_90{0};  ///< on average over them: as stated, and in 9 of 10 rooms
    /// Where the stated room has no interval: of `rooms_tried` within its doubts, those with one.
    int rooms_with_key = 0;
    std::vector<RecceStep> steps;  ///< most useful first
    std::vector<NotInFile> missing;

    static constexpr int rooms_tried = 20;
};

/// Ranks by an ensemble of 32 rooms within the doubts (study::why_unsure).
/// @param location  as read, with a room; without a window or mark nothing is ranked
/// @return nothing if the sun's series do not serve these years
[[nodiscard]] std::optional<RecceAnswer> recce(const site::Location& location,
                                               const DateRange& dates);

}  // namespace keyhour::ask
