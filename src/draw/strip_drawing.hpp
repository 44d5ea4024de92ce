#pragma once
/// @file
/// The day as a strip against the hours: sun, keys, covers, spots.

#include <string>

#include "drawing.hpp"
#include "keyhour/study/day_strip.hpp"

namespace keyhour::draw {

/// How a strip lies on its drawing: x = left_mm + mm_per_h * hours since `from`.
struct StripScale {
    Instant from, to;
    double left_mm = 0, mm_per_h = 1;
    double top_mm = 0, bottom_mm = 0;  ///< of the rows: for a line that follows a slider
    [[nodiscard]] double x(Instant t) const {
        return left_mm + mm_per_h * (t - from).count() / 3600;
    }
};

struct StripDrawing {
    std::string svg;
    StripScale scale;
    double width_mm = 0, height_mm = 0;
};

/// Rows: the sky's twilights and late light; sun through each window; each clean key; each cover;
/// each spot with its latest start. An empty group "PREFIX-now" lies over the rows.
/// @param location  as study::RoomStudy has it
[[nodiscard]] StripDrawing draw_strip(const site::Location& location, const study::DayStrip& strip,
                                      const DrawingFrame& frame = {});

}  // namespace keyhour::draw
