#pragma once
/// @file
/// The clean key with all that is told about each interval.

#include "keyhour/study/clean_key.hpp"

namespace keyhour::test {

inline std::vector<study::KeyInterval> described_key(const study::RoomStudy& study, Instant from,
                                                     Instant to,
                                                     const study::KeySettings& settings = {}) {
    auto found = study::clean_key(study, from, to, settings);
    for (study::KeyInterval& interval : found)
        study::describe(study, settings, interval);
    return found;
}

}  // namespace keyhour::test
