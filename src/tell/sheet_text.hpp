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

/// "52 min", "1 h 05 min".
[[nodiscard]] std::string length_text(Seconds length);
/// Its length as the minutes of span_text, of span_inward and of span_outward say.
[[nodiscard]] Seconds told_length(const study::Span& span);
[[nodiscard]] Seconds promised_length(const study::Span& span);
[[nodiscard]] Seconds covered_length(const study::Span& span);
/// "13:05 to 13:57": nearest minutes; an end at midnight is 24:00.
[[nodiscard]] std::string span_text(const study::Span& span, const site::Zone& zone);
/// The same with the ends rounded towards each other: a promise.
[[nodiscard]] std::string span_inward(const study::Span& span, const site::Zone& zone);
/// Rounded away from each other: trouble.
[[nodiscard]] std::string span_outward(const study::Span& span, const site::Zone& zone);
/// The whole minute before: by when something must be done.
[[nodiscard]] std::string by_text(Instant t, const site::Zone& zone);
/// "310 lx", "34 klx": two digits.
[[nodiscard]] std::string level_text(double lx);
/// With one digit where the air leaves no more.
[[nodiscard]] std::string level_text(const light::Band& over_airs);
/// "T5.6 1/3".
[[nodiscard]] std::string stop_text(double lx, const light::Exposure& exposure);
/// "Stops at ISO 800, 25 frames a second, shutter 180 degrees, clear sky."
[[nodiscard]] std::string exposure_words(const light::Exposure& exposure);
/// "13:05", with its offset where clocks change on the date: "01:30 UTC+01:00".
[[nodiscard]] std::string step_clock(Instant t, const site::Zone& zone, bool with_offset);

/// JSON that may stand in a script element of a page: no <, > or & as such, and no line that a
/// script could take for its end.
[[nodiscard]] std::string json_in_page(std::string json);

}  // namespace keyhour::tell
