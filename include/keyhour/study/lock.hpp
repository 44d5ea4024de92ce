#pragma once
/// @file
/// A lock: an interval in which no light may be moved. Which openings let sun in while it lasts,
/// where does that land, and what must hang where by when?

#include <optional>
#include <vector>

#include "keyhour/study/room_study.hpp"
#include "keyhour/study/sun_in_room.hpp"

namespace keyhour::study {

/// Direct sun through one open window during the lock.
struct Leak {
    std::size_t window = 0;
    std::optional<Span> span;  ///< at the stated bearing; none: leaks at some bearing only
    Span possible;             ///< leaks at some bearing within the stated doubt
    room::LimitingEdge begins_by, ends_by;  ///< none where the lock begins or ends
    std::vector<room::Surface> surfaces;    ///< where it lands, in the order of first landing
    std::vector<std::size_t> marks;         ///< reached
    std::vector<std::size_t> cameras;       ///< in whose frame it lands
};

/// What must hang in a window.
struct CoverToHang {
    std::size_t window = 0;
    double width_m = 0, height_m = 0;  ///< of the clear opening; cloth needs its overlap on top
    std::optional<Instant> needed_by;  ///< first leak at the stated bearing
    Instant sure_by;                   ///< first leak at any bearing within the doubt
};

struct LockAnswer {
    Span lock;
    std::vector<Leak> leaks;          ///< by window, then by time
    std::vector<CoverToHang> covers;  ///< the soonest needed first
    [[nodiscard]] double cover_area_m2() const noexcept;
};

/// Every leak of a lock.
/// @pre from < to, and the study's track covers it
[[nodiscard]] LockAnswer leaks_of_lock(const RoomStudy& study, Instant from, Instant to);

/// The placement of a lock of this length within from..to that needs the least area of cover, the
/// earliest among equals, tried every ten minutes; nothing if it does not fit.
[[nodiscard]] std::optional<LockAnswer> best_lock(const RoomStudy& study, Instant from, Instant to,
                                                  Seconds length);

}  // namespace keyhour::study
