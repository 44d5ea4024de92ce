#pragma once
/// @file
/// Minutes, spans and dates as people read them: whole minutes, local time. What must hold is
/// rounded inward, what must be covered outward.

#include <string>

#include "keyhour/site/zone.hpp"
#include "keyhour/study/spans.hpp"

namespace keyhour::study {
enum class DayEventKind;
}

namespace keyhour::words {

/// "52 min", "3 h 05 min".
[[nodiscard]] std::string in_minutes(Seconds length);

/// The same rounded down: promised minutes.
[[nodiscard]] std::string at_least(Seconds length);

/// "13:05 to 13:57", and where the second lies on another date: "16:03 to 07:45 on Wed 11 March".
[[nodiscard]] std::string clock_span(Instant from, Instant to, const site::Zone& zone);

/// The whole minute at, before or after an instant.
[[nodiscard]] Instant nearest_minute(Instant t);
[[nodiscard]] Instant minute_before(Instant t);
[[nodiscard]] Instant minute_after(Instant t);

/// The minute that stands for an event of the day: the first sun's after it and the last sun's
/// before it, as light that can be counted on begins and ends with them; of all others the nearest.
[[nodiscard]] Instant event_minute(study::DayEventKind kind, Instant t);

/// As long as the clock times of a span say.
[[nodiscard]] Seconds clock_length(const study::Span& span);

/// Whole minutes of what must hold: its ends rounded towards each other, never past.
[[nodiscard]] study::Span held_minutes(const study::Span& span);

/// Lengths with the ends rounded towards each other, 0 at least, and away from each other.
[[nodiscard]] Seconds promised_length(const study::Span& span);
[[nodiscard]] Seconds covered_length(const study::Span& span);

/// "15:03", rounded down: for what must be ready by then.
[[nodiscard]] std::string minute_down(Instant t, const site::Zone& zone);

/// "08:05", rounded up: from when something can be counted on.
[[nodiscard]] std::string minute_up(Instant t, const site::Zone& zone);

/// "13:05 to 13:57 (52 min)": length and clock agree.
[[nodiscard]] std::string span_in_words(const study::Span& span, const site::Zone& zone);

/// The same with the ends rounded away from each other (trouble), or towards each other (promises).
[[nodiscard]] std::string span_outward(const study::Span& span, const site::Zone& zone);
[[nodiscard]] std::string span_inward(const study::Span& span, const site::Zone& zone);

/// Nearest minutes, without its length: "13:05 to 13:57".
[[nodiscard]] std::string clock_nearest(const study::Span& span, const site::Zone& zone);

/// Outward, without its length: "12:46 to 14:31".
[[nodiscard]] std::string clock_outward(const study::Span& span, const site::Zone& zone);

/// Inward, without its length: "13:10 to 14:06", "less than 1 min".
[[nodiscard]] std::string clock_inward(const study::Span& span, const site::Zone& zone);

/// "UTC+01:00" at that hour.
[[nodiscard]] std::string offset_at(Instant t, const site::Zone& zone);

/// "UTC+00:00", and over a change of clocks "UTC+00:00, then UTC+01:00".
[[nodiscard]] std::string offsets_over(Instant from, Instant to, const site::Zone& zone);

/// "Tue 10 March 2026".
[[nodiscard]] std::string short_date(site::LocalDate date);

/// "Tu 2026-03-10", for the rows of a table.
[[nodiscard]] std::string row_date(site::LocalDate date);

/// "1 degree", "2.5 degrees".
[[nodiscard]] std::string in_degrees(double degrees);

}  // namespace keyhour::words
