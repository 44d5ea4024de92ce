#pragma once
/// @file
/// A place outside hour by hour: where the sun stands, shadows, levels, the moon.

#include "tell/exterior_page.hpp"

namespace keyhour::tell {

/// A row for each time, with a head; nothing without any.
[[nodiscard]] Paragraphs spot_hours(const SpotAnswer& answer, const ExteriorQuestion& q);

/// What the words of the rows mean.
inline constexpr const char* spot_hours_meaning =
    "light: from camera left or right, *: the sun is in the frame, w: degrees off square to the "
    "wall; to: where the shadow points; sun klx square to the beam, t: through thin trees; in "
    "10': stops lost over the next ten minutes, of the sun, in shade of the sky.";

/// "moon 56 % lit, waning, rises 01:46, sets 08:25; 18:34 not in sight"; empty without a moon.
[[nodiscard]] std::string moon_line(const study::SpotDay& day, const site::Zone& zone);

}  // namespace keyhour::tell
