#pragma once
/// @file
/// A time in which no light may be moved, on one date after the other: what lets sun in, what must
/// hang by when and, where a lamp outside is the key, that lamp's whole day.

#include <optional>

#include "keyhour/ask/room_question.hpp"
#include "keyhour/site/lock_plan.hpp"
#include "keyhour/study/day_strip.hpp"
#include "keyhour/study/lamp_day.hpp"

namespace keyhour::ask {

/// The same for every date.
struct LockRequest {
    /// Key window, lamp, mark and camera; length and hours are LockTime's.
    site::LockPlan plan;
    bool landing = true;  ///< on which surfaces and marks leaks land: most of the work
    bool by_lamp = true;  ///< the day of the plan's lamp, where the plan names a key window
};

/// When it is on one date.
struct LockTime {
    study::Span within;             ///< the lock, or the hours that it may lie in
    std::optional<Seconds> length;  ///< placed best in those hours; none: all of them
};

struct LockAnswer {
    std::optional<study::LockAnswer> lock;  ///< none: it is longer than its hours
    /// None: not asked, or no lamp outside leads through the key window to the mark.
    std::optional<study::PlannedLock> by_lamp;
};

/// Date by date; the sun through the windows is found once for each season.
class Locks {
public:
    /// @pre the question outlives this; the plan's window is open
    explicit Locks(const RoomQuestion& question, const LockRequest& request = {});

    /// study::leaks_of_lock, or study::best_lock of a length; with study::lamp_day.
    /// @pre `date` is one of the question's; time.within begins on it and is no longer than a day
    [[nodiscard]] LockAnswer on(site::LocalDate date, const LockTime& time);

private:
    [[nodiscard]] std::optional<study::PlannedLock> by_lamp(const study::RoomSun& sun,
                                                            site::LocalDate date,
                                                            const study::Span& within,
                                                            const study::LockAnswer& lock) const;

    const RoomQuestion& question_;
    LockRequest request_;
    study::SeasonalSun sun_;
};

/// The same of the question's first date alone.
[[nodiscard]] LockAnswer lock(const RoomQuestion& question, const LockTime& time,
                              const LockRequest& request = {});

}  // namespace keyhour::ask
