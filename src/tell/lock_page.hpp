#pragma once
/// @file
/// `lock` in words: what must hang where by when, while no light may be moved.

#include <string>

#include "keyhour/site/rigging.hpp"
#include "keyhour/study/day_strip.hpp"
#include "keyhour/study/lock.hpp"
#include "keyhour/study/room_study.hpp"
#include "tell/detail.hpp"
#include "tell/opening.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

/// What was asked about every date.
struct LockQuestion {
    const site::Location& location;
    site::Recce recce;
    double overlap_m = site::usual_overlap_m;  ///< of cloth, on each side
    bool was_placed = false;                   ///< the best place was looked for
    Details show;
};

/// One date: the lock, what to hang, where sun comes in and lands.
[[nodiscard]] Paragraphs lock_page(const study::LockAnswer& answer, const LockQuestion& q);

/// The lamp that is the lock's key: its place and level, what else it enters, fill, ratio; hour by
/// hour on request. Empty without a lamp.
[[nodiscard]] Paragraphs lock_key_page(const study::PlannedLock& planned,
                                       const study::RoomStudy& study, const LockQuestion& q);

/// The same as one line of a range.
[[nodiscard]] Paragraph lock_row(const study::LockAnswer& answer, const LockQuestion& q,
                                 site::LocalDate date);

/// The same as a message of at most 140 characters.
[[nodiscard]] std::string lock_message(const study::LockAnswer& answer, const LockQuestion& q);

/// What the times and sizes are, and the caution where something must hang.
/// @param any_lamp  a lamp outside is told
[[nodiscard]] Paragraphs lock_foot(const LockQuestion& q, bool any_cover, bool any_lamp);

}  // namespace keyhour::tell
