#pragma once
/// @file
/// `day` in words: rise and set, the sun over the site's own horizon, late light, twilights.

#include <string>
#include <vector>

#include "keyhour/ask/day.hpp"
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

/// One date.
[[nodiscard]] Paragraphs day_page(const ask::DayAnswer& answer, const DayQuestion& q);

/// A line a date, with a head and a foot.
[[nodiscard]] Paragraph day_row_head();
[[nodiscard]] Paragraph day_row(const study::Day& day, const site::Zone& zone);
[[nodiscard]] Paragraph day_row_foot();

/// The same as a message of at most 140 characters.
[[nodiscard]] std::string day_message(const ask::DayAnswer& answer, const DayQuestion& q);

}  // namespace keyhour::tell
