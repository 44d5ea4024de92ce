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

/// Without full stops: the lock and the span without sun around it; what lamp_light_sentences
/// tells; cloth and by when; leaks that no cloth stops; sheers that the sun lights.
[[nodiscard]] std::vector<std::string> lamp_key_sentences(const LampKey& key);

/// Of these the lamp's: its place and level; other windows that it enters; fill; key:fill and what
/// daylight does to it. Empty without a lamp.
[[nodiscard]] std::vector<std::string> lamp_light_sentences(const LampKey& key);

/// "18:00 key 3.4 klx, fill about 800 lx, key:fill about 4:1; key 3 mired cooler than the lamp".
[[nodiscard]] std::string lamp_key_hour(const LampKey& key, const study::LampHour& hour);

/// "2.41 m off the wall, 0.24 m right of the window's middle, 2.1 m up, 1.2 klx at the mark", or
/// why there is no such place. @pre a lamp is asked about
[[nodiscard]] std::string lamp_key_place(const LampKey& key);

}  // namespace keyhour::tell
