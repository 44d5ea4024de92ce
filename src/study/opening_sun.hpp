#pragma once
/// @file
/// Sun through the windows from fixed regions of directions.

#include <functional>
#include <vector>

#include "region_spans.hpp"

namespace keyhour::study {

/// When sun comes in through one window, and when it reaches each mark.
struct OpeningSun {
    std::size_t window = 0;
    std::vector<Span> stated, some;          ///< at the stated bearing; at some within the doubt
    std::vector<std::vector<Span>> on_mark;  ///< of each mark: at some bearing
};

/// Of every window that is asked for, its cover left aside, between first and last.
/// @param marks  are the marks asked about?
[[nodiscard]] std::vector<OpeningSun> opening_sun(
    const RoomStudy& study, Instant first, Instant last, bool marks,
    const std::function<bool(const room::Window&)>& is_asked);

}  // namespace keyhour::study
