#pragma once
// Locks of one place, keyed by a lamp outside: over which dates, or why the place has none.

#include <span>

#include "batch_answer.hpp"
#include "keyhour/site/rigging.hpp"
#include "keyhour/site/units.hpp"
#include "tell/batch_documents.hpp"

namespace keyhour::cli {

/// A place as far as locks are asked of it.
struct LockedPlace {
    site::Location location;  ///< its lock as the options and the file have it
    double overlap_m = site::usual_overlap_m;
    site::Units units = site::Units::metres;
};

/// The place with the lock that is asked for, or why it can't have that, without its name.
/// @pre the location has a room with a window and a mark
[[nodiscard]] tl::expected<LockedPlace, std::string> locked_place(site::Location location,
                                                                  const LockWish& wish);

/// A line for each date, or one about all of them.
/// @return why no lamp can be the key there; empty if one can
[[nodiscard]] std::string answer_lock(const BatchQuestion& q,
                                      std::span<const site::LocalDate> dates,
                                      const LockedPlace& place, tell::BatchSubject subject,
                                      BatchOutcome& outcome);

/// The spans that hold the lock, as a grid needs them.
[[nodiscard]] std::string brief_locks(const BatchQuestion& q,
                                      std::span<const site::LocalDate> dates,
                                      const LockedPlace& place, BriefPlace& out);

}  // namespace keyhour::cli
