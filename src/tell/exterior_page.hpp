#pragma once
/// @file
/// `exterior` in words: when the light is where the shot wants it, what takes it, when to start.

#include <string>

#include "keyhour/ask/exterior.hpp"
#include "tell/detail.hpp"
#include "tell/opening.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

/// What was asked about every place outside and every date.
struct ExteriorQuestion {
    const site::Location& location;
    site::Recce recce;
    Dates dates;
    study::SpotSettings settings;
    std::size_t spots = 1;  ///< places asked about
    bool timed = false;     ///< at times of the day: their rows are the answer
    Details show;
};

using ask::SpotAnswer;

/// Is an end of the light so unsure that a room's bearing must be measured?
[[nodiscard]] bool is_bearing_needed(const SpotAnswer& answer, const ExteriorQuestion& q);

/// A date: the light as wanted, when to start, what takes it, the evening.
[[nodiscard]] Paragraphs spot_block(const SpotAnswer& answer, const ExteriorQuestion& q);

/// The same as one line of a range.
[[nodiscard]] Paragraph spot_row(const SpotAnswer& answer, const ExteriorQuestion& q);

/// The same as a message of at most 140 characters.
[[nodiscard]] std::string spot_message(const SpotAnswer& answer, const ExteriorQuestion& q);

/// Of a place that stands inside a thing: what may look wrong in the location.
[[nodiscard]] std::string stands_inside(const ask::SpotInside& spot,
                                        const site::Location& location);

/// What words and times mean, and the cautions.
[[nodiscard]] Paragraphs exterior_foot(const ExteriorQuestion& q);

}  // namespace keyhour::tell
