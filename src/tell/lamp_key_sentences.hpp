#pragma once
/// @file
/// A lock keyed by a lamp outside, in sentences: the same for page, calendar and spreadsheet.

#include <string>
#include <vector>

#include "keyhour/site/units.hpp"
#include "keyhour/study/day_strip.hpp"

namespace keyhour::tell {

/// What is told of a planned lock.
struct LampKey {
    const study::PlannedLock& planned;
    const study::RoomStudy& study;
    double overlap_m = site::usual_overlap_m;  ///< of cloth, on each side
    site::Units units = site::Units::metres;
};

/// "type case by key lamp through north light".
[[nodiscard]] std::string lamp_key_who(const LampKey& key);

/// Without full stops: the lock and the span without sun around it; the lamp's place and level;
/// fill; cloth and by when; leaks that no cloth stops; what daylight does to the level.
[[nodiscard]] std::vector<std::string> lamp_key_sentences(const LampKey& key);

/// "2.41 m off the wall, 0.24 m right of the window's middle, 2.1 m up, 1.2 klx at the mark", or
/// why there is no such place. @pre a lamp is asked about
[[nodiscard]] std::string lamp_key_place(const LampKey& key);

}  // namespace keyhour::tell
