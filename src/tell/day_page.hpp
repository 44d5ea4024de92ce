#pragma once
/// @file
/// `day` in words: rise and set, the sun over the site's own horizon, late light, twilights.

#include <string>
#include <vector>

#include "keyhour/study/day.hpp"
#include "keyhour/study/day_light.hpp"
#include "tell/detail.hpp"
#include "tell/opening.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

/// What was asked about every date.
struct DayQuestion {
    const site::Location& location;
    Dates dates;
    study::LateLightBand band;
    Details show;
};

/// One date. @param light  of it; empty: not asked for
[[nodiscard]] Paragraphs day_page(const study::Day& day, const std::vector<study::DayLight>& light,
                                  const DayQuestion& q);

/// A line a date, with a head and a foot.
[[nodiscard]] Paragraph day_row_head();
[[nodiscard]] Paragraph day_row(const study::Day& day, const site::Zone& zone);

/// The same as a message of at most 140 characters.
[[nodiscard]] std::string day_message(const study::Day& day, const DayQuestion& q);

}  // namespace keyhour::tell
