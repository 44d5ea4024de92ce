#pragma once
/// @file
/// A lock: an interval in which no light may be moved. Which openings let sun in while it lasts,
/// where does that land, and what must hang where by when?

#include <optional>
#include <vector>

#include "keyhour/study/room_study.hpp"
#include "keyhour/study/sun_in_room.hpp"

namespace keyhour::study {

/// A mark is reached where more than this share of its silhouette is lit: less is rounding.
inline constexpr double least_share_on_mark = 1e-6;

/// Direct sun through one open window during the lock.
struct Leak {
    std::size_t window = 0;
    std::optional<Span> span;  ///< at the stated bearing; none: leaks at some bearing only
    Span possible;             ///< leaks at some bearing within the stated doubt
    room::LimitingEdge begins_by, ends_by;  ///< none where the lock begins or ends
    /// Where it lands, at the stated bearing or another within the doubt.
    std::vector<room::Surface> surfaces;
    std::vector<std::size_t> marks;    ///< reached
    std::vector<std::size_t> cameras;  ///< in whose frame it lands
};

/// What must hang in a window.
struct CoverToHang {
    std::size_t window = 0;
    double width_m = 0, height_m = 0;  ///< of the clear opening; see cloth_of()
    std::optional<Instant> needed_by;  ///< first leak at the stated bearing
    Instant sure_by;                   ///< first leak at any bearing within the doubt
};

/// The size to which a cover's cloth is cut: its opening and what it overlaps on every side.
struct ClothSize {
    double width_m = 0, height_m = 0;
};
/// @param overlap_m  on each side, 0 or more
[[nodiscard]] constexpr ClothSize cloth_of(const CoverToHang& cover, double overlap_m) noexcept {
    return {cover.width_m + 2 * overlap_m, cover.height_m + 2 * overlap_m};
}

/// Sun on the cloth of a window that is hung with a sheer: no patch, but a level that changes.
struct LitSheer {
    std::size_t window = 0;
    Span span;
};

struct LockAnswer {
    Span lock;
    std::optional<std::size_t> key_window;  ///< stays open: its leaks have no cover
    std::vector<Leak> leaks;                ///< by window, then by time
    std::vector<CoverToHang> covers;        ///< the soonest needed first
    std::vector<LitSheer> lit_sheers;
    /// Of the cloth. @param overlap_m  0: of the clear openings
    [[nodiscard]] double cover_area_m2(double overlap_m = 0) const noexcept;
};

/// Every leak of a lock.
/// @param key_window  that which the key comes through; it can't be covered
/// @pre from < to, and the study's track covers it
[[nodiscard]] LockAnswer leaks_of_lock(const RoomStudy& study, Instant from, Instant to,
                                       std::optional<std::size_t> key_window = {});

/// The placement of a lock of this length within from..to: least sun through the key window, then
/// least area of cover, then least sun on the covers, then the earliest; tried every ten minutes.
/// @return nothing if it does not fit
[[nodiscard]] std::optional<LockAnswer> best_lock(const RoomStudy& study, Instant from, Instant to,
                                                  Seconds length,
                                                  std::optional<std::size_t> key_window = {});

}  // namespace keyhour::study
