#pragma once
/// @file
/// A lock: an interval in which no light may be moved. Which openings let sun in while it lasts,
/// where does that land, and what must hang where by when?

#include <optional>
#include <vector>

#include "keyhour/study/room_sun.hpp"
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

/// Are the surfaces and the frames that leaks land on wanted? They cost a hundred times the rest.
enum class Landing { looked_at, left_out };

/// Every leak of a lock. The one rule for covers: any direct sun that enters by an open window but
/// the key's, at any bearing within the doubt, wherever it lands: it moves the fill even where it
/// reaches neither mark nor frame.
/// @param key_window  that which the key comes through; it can't be covered
/// @pre sun.from() <= from < to <= sun.to(); of `sun` the marks were asked
[[nodiscard]] LockAnswer leaks_of_lock(const RoomSun& sun, Instant from, Instant to,
                                       std::optional<std::size_t> key_window, Landing landing);

/// The covers of that lock alone.
[[nodiscard]] std::vector<CoverToHang> covers_of_lock(const RoomSun& sun, Instant from, Instant to,
                                                      std::optional<std::size_t> key_window);

/// The placement of a lock of this length within from..to: least sun through the key window (at the
/// stated bearing, then at any), then least area of cover, then least sun on the covers, then the
/// earliest. Tried every ten minutes, and at the whole minutes beside each leak's ends, which win
/// only by needing less cover or having less sun through the key window.
/// @return nothing if it does not fit
[[nodiscard]] std::optional<LockAnswer> best_lock(const RoomSun& sun, Instant from, Instant to,
                                                  Seconds length,
                                                  std::optional<std::size_t> key_window,
                                                  Landing landing);

/// The same for one question alone. @pre the study's track covers from..to
[[nodiscard]] LockAnswer leaks_of_lock(const RoomStudy& study, Instant from, Instant to,
                                       std::optional<std::size_t> key_window = {});
[[nodiscard]] std::optional<LockAnswer> best_lock(const RoomStudy& study, Instant from, Instant to,
                                                  Seconds length,
                                                  std::optional<std::size_t> key_window = {});

}  // namespace keyhour::study
