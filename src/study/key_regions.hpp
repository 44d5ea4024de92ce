#pragma once
/// @file
/// The clean key of many days from fixed regions of directions.

#include <functional>
#include <vector>

#include "keyhour/study/clean_key.hpp"

namespace keyhour::study {

/// Is a key looked for by regions, or sampled? Finding a region costs as much as sampling a week. A
/// wholly lit mark has no outline to trace: its coverage is flat up to the very edge.
[[nodiscard]] inline bool traces_regions(Instant from, Instant to, const KeySettings& settings) {
    constexpr Seconds fewest{7 * 86400.0};
    constexpr double most_coverage = 0.9999;
    return to - from >= fewest && settings.coverage <= most_coverage;
}

/// When one mark, camera and window may give a clean key, covers of other windows left aside.
struct KeySpans {
    KeyInterval who;
    std::vector<Span> stated;  ///< at the stated bearing
    std::vector<Span> every;   ///< at every bearing within the doubt
    std::vector<Span> some;    ///< at some
};

/// For all that the settings ask for and that gets any light, between first and last. Finds the
/// regions once, then cuts each day's way with them; boundaries at the stated bearing are checked
/// against the criterion itself.
/// @param only  what is asked for besides: who is wanted of all these; none: all of them
[[nodiscard]] std::vector<KeySpans> key_spans(
    const RoomStudy& study, Instant first, Instant last, const KeySettings& settings,
    const std::function<bool(const KeyInterval& who)>& only = {});

}  // namespace keyhour::study
