#pragma once
/// @file
/// Times, lengths and levels in the words of the light sheet.

#include <string>

#include "keyhour/light/clear_sky.hpp"
#include "keyhour/light/exposure.hpp"
#include "keyhour/site/zone.hpp"
#include "keyhour/study/spans.hpp"

namespace keyhour::tell {

enum class Minute { before, nearest, after };
/// The whole minute so chosen.
[[nodiscard]] Instant whole_minute(Instant t, Minute which);

/// "T5.6 1/3".
[[nodiscard]] std::string stop_text(double lx, const light::Exposure& exposure);
/// "Stops at ISO 800, 25 frames a second, shutter 180 degrees, clear sky."
[[nodiscard]] std::string exposure_words(const light::Exposure& exposure);
/// "13:05", with its offset where clocks change on the date: "01:30 UTC+01:00".
[[nodiscard]] std::string step_clock(Instant t, const site::Zone& zone, bool with_offset);

/// JSON that may stand in a script element of a page: no <, > or & as such, and no line that a
/// script could take for its end.
[[nodiscard]] std::string json_in_page(const std::string& json);

}  // namespace keyhour::tell
