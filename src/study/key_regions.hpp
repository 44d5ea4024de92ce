#pragma once
/// @file
/// The clean key from fixed regions of directions, of one date as of many.

#include <functional>
#include <vector>

#include "keyhour/study/clean_key.hpp"
#include "region_spans.hpp"

namespace keyhour::study {

/// When one mark, camera and window may give a clean key.
struct KeySpans {
    KeyInterval who;
    BearingSpans at;
};

/// For all that the settings ask for and that gets any light, between first and last. Finds the
/// regions once, then cuts each day's way with them; ends are held to the criterion itself.
/// @param only  what is asked for besides: who is wanted of all these; none: all of them
[[nodiscard]] std::vector<KeySpans> key_spans(
    const RoomStudy& study, Instant first, Instant last, const KeySettings& settings,
    const std::function<bool(const KeyInterval& who)>& only = {});

}  // namespace keyhour::study
