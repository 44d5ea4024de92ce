#pragma once
/// @file
/// A year of clean keys at one mark: day of the year across, hour of the day down.

#include <optional>
#include <string>

#include "drawing.hpp"
#include "keyhour/study/year_key.hpp"

namespace keyhour::draw {

struct YearContent {
    std::optional<std::size_t> camera;      ///< only the keys of this one
    std::optional<site::LocalDate> marked;  ///< a line at this date
};

/// Above, when the key is clean, by the site's clock, with sunrise and sunset and the steps of the
/// clocks; below, how long the longest holds. Certainty is told by black, hatch and outline.
[[nodiscard]] std::string draw_year(const site::Location& location, const study::KeyYear& year,
                                    const YearContent& content = {},
                                    const DrawingFrame& frame = {});

/// The day with the longest sure hold, or the longest at the stated bearing where none is sure.
struct BestKeyDay {
    std::size_t day = 0, interval = 0;  ///< into KeyYear::days and its intervals
};
[[nodiscard]] std::optional<BestKeyDay> best_day(const study::KeyYear& year,
                                                 std::optional<std::size_t> camera = {});

}  // namespace keyhour::draw
