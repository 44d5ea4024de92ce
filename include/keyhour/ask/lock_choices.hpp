#pragma once
/// @file
/// The locks of one place on many dates, each keyed by a lamp outside, and which of them a crew can
/// have: date by date. Memory does not grow with the dates.

#include <cstddef>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <tl/expected.hpp>

#include "keyhour/site/location.hpp"
#include "keyhour/site/lock_plan.hpp"
#include "keyhour/site/rigging.hpp"
#include "keyhour/study/lamp_day.hpp"

namespace keyhour::ask {

/// Why a place can have the lock on no date at all.
struct LockFault {
    enum class Kind {
        longer_than_hours,  ///< the lock, than the working hours
        covered,            ///< the key window, and the key's light must come through it
        no_line,            ///< leads straight from the key window to the mark, or to any
        no_window           ///< that is open leads to a mark in a straight line
    };
    Kind kind = Kind::no_window;
    Seconds lock{0}, hours{0};        ///< of longer_than_hours
    std::size_t window = 0;           ///< of covered and no_line
    std::optional<std::size_t> mark;  ///< of no_line; none: no line leads to any
};

/// The location with that lock; its mark, if the plan names a window alone, is the first that a
/// straight line from there leads to.
/// @pre the location has a room with a window and a mark; the plan's indices are of that room
[[nodiscard]] tl::expected<site::Location, LockFault> with_lock(site::Location location,
                                                                const site::LockPlan& plan);

struct LockChoiceRequest {
    double overlap_m = site::usual_overlap_m;  ///< of a cloth over its opening, on every side
    Seconds min_sure{0};                       ///< free of sun at any bearing, at least
};

/// Why the lock does not fit on a date.
struct LockMiss {
    enum class Kind {
        longer_than_hours,   ///< of this date
        sun_comes,           ///< through the key window within `wanted`; `free` is the longest
        at_another_bearing,  ///< it would be free of sun; not at the stated one
        unsure,              ///< `free` of sun at any bearing, and `wanted` is min_sure
        no_lamp_place        ///< from which the lamp's light does as wished
    };
    Kind kind = Kind::sun_comes;
    Seconds free{0}, wanted{0};
};

/// One date's.
struct LockChoice {
    study::LampDay day;  ///< best span first; of leaks only their times
    std::optional<LockMiss> miss;
    [[nodiscard]] bool fits() const noexcept { return !miss; }
};

/// @param study, asked  of the date's season
using TakeLock = std::function<void(const study::RoomStudy& study,
                                    const study::LampDayQuestion& asked, LockChoice& choice)>;

/// Date by date, season by season. Where the lamp stands is found once.
/// @param location  as read, or from with_lock; with a room that has a window and a mark
/// @param dates     ascending, each once; at least one
/// @param shared    the sun from two days before the first date to three days after the last
/// @return why no lamp outside can be the key there; nothing if one can
[[nodiscard]] std::optional<LockFault> for_each_lock(
    const site::Location& location, std::span<const site::LocalDate> dates,
    const std::shared_ptr<const study::SharedTrack>& shared, const LockChoiceRequest& request,
    const TakeLock& take);

}  // namespace keyhour::ask
