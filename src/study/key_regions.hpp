#pragma once
/// @file
/// The clean key of many days from fixed regions of directions.

#include <vector>

#include "keyhour/study/clean_key.hpp"

namespace keyhour::study {

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
[[nodiscard]] std::vector<KeySpans> key_spans(const RoomStudy& study, Instant first, Instant last,
                                              const KeySettings& settings);

}  // namespace keyhour::study
