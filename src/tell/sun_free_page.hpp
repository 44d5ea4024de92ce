#pragma once
/// @file
/// `key --by lamp` in words: the windows that a lamp outside can be the key through, and the lock.

#include <string>
#include <vector>

#include "keyhour/site/rigging.hpp"
#include "keyhour/study/lamp_day.hpp"
#include "tell/detail.hpp"
#include "tell/opening.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

/// What was asked about every date.
struct LampKeyQuestion {
    const site::Location& location;
    site::Recce recce;
    Dates dates;
    study::LampSettings settings;
    double overlap_m = site::usual_overlap_m;  ///< of cloth, on each side
    bool all = false;                          ///< every window and span, not only the best
    Details show;
};

/// One date's answer.
struct LampKeyDate {
    std::vector<study::LampChoice> choices;  ///< that hold the lock, best first
    std::vector<study::LampChoice> shorter;  ///< the same of a lock of a minute: what came nearest
};

/// What stands above all dates: place and dates, what was asked.
[[nodiscard]] Paragraphs sun_free_head(const LampKeyQuestion& q);

/// One date of it: the best window in full, the next in a line each, what failed in one; of a
/// range the best in a row.
[[nodiscard]] Paragraphs sun_free_date(const LampKeyDate& day, const LampKeyQuestion& q,
                                       const study::RoomStudy& study, site::LocalDate date);

/// The wall that matters, and the caution of a lamp outside.
[[nodiscard]] Paragraphs sun_free_foot(const site::Location& location);

/// Of the best window of a date, or of all; each at most 140 characters.
[[nodiscard]] std::vector<std::string> sun_free_messages(
    const std::vector<study::LampChoice>& choices, const LampKeyQuestion& q,
    const study::RoomStudy& study);

}  // namespace keyhour::tell
