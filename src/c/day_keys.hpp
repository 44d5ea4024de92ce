#pragma once
/// @file
/// When a window of a small room gives a clean key.

#include "../study/key_margin.hpp"
#include "keyhour/site/horizon.hpp"
#include "keyhour/sun/track.hpp"
#include "small_room.hpp"

namespace keyhour::c {

/// The sun over one site, minute by minute or at any instant: study::SunPath without its memory.
struct SmallPath {
    const sun::Track& track;
    const sun::Place& place;
    std::span<const site::HorizonPoint> skyline;

    [[nodiscard]] study::SunOverPlan at(Instant t, const SmallRoom& room) const noexcept;
};

/// The longest span that is looked at.
inline constexpr double longest_search_s = 31 * sun::seconds_per_day;

/// The spans of one mark, camera (null: none) and window; looked at once a minute, then solved.
/// @param out  takes them in its own memory
void find_keys(const SmallRoom& room, const SmallScene& scene, const SmallPath& path,
               const study::KeyLimits& limits, std::size_t mark, const SmallCamera* camera,
               std::size_t window, ArenaList<study::Span>& out) noexcept;

}  // namespace keyhour::c
