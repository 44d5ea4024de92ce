#pragma once
/// @file
/// The clean key by sampling the sun's way: for a few days, and where covers of other windows
/// matter, which are no fixed region.

#include <vector>

#include "keyhour/study/clean_key.hpp"

namespace keyhour::study {

/// Adds the intervals of one mark, camera and window that start in from <= t < to, looked for on
/// the samples of each stretch.
/// @param stretches  ascending; each begins and ends where there is no clean key
/// @param first,last  what is possible is cut there
void add_sampled_intervals(const RoomStudy& study, const KeySettings& settings,
                           const std::vector<std::vector<Moment>>& stretches, Instant from,
                           Instant to, Instant first, Instant last, const KeyInterval& who,
                           std::vector<KeyInterval>& out);

/// The samples of first..last near which one mark and window may have light.
[[nodiscard]] std::vector<std::vector<Moment>> lit_stretches(const RoomStudy& study,
                                                             std::span<const Moment> samples,
                                                             const KeySettings& settings,
                                                             const KeyInterval& who);

/// How far samples lie apart where nothing outside may shade.
inline constexpr Seconds sample_step{300};

}  // namespace keyhour::study
