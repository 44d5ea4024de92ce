#pragma once
// Plain text for people: 80 columns or as many as a narrower terminal has, whole minutes.

#include <iosfwd>
#include <string>
#include <string_view>

#include "keyhour/site/zone.hpp"
#include "keyhour/study/spans.hpp"

namespace keyhour::cli {

inline constexpr std::size_t text_width = 80;

/// How many columns the text takes on a terminal; see display_width.hpp.
[[nodiscard]] std::size_t columns(std::string_view text);

/// Breaks at blanks so that no line is longer than the stream's (terminal.hpp); lines after the
/// first are indented. A number stays beside its unit, a day beside its month; a word that is
/// longer than a line is broken anywhere.
void print_wrapped(std::ostream& out, std::string_view text, std::size_t indent,
                   std::size_t indent_after);

/// "52 min", "3 h 05 min".
[[nodiscard]] std::string in_minutes(Seconds length);

/// "13:05 to 13:57", and where the second lies on another date: "16:03 to 07:45 on Wed 11 March".
[[nodiscard]] std::string clock_span(Instant from, Instant to, const site::Zone& zone);

/// The whole minute at, before or after an instant.
[[nodiscard]] Instant nearest_minute(Instant t);
[[nodiscard]] Instant minute_before(Instant t);
[[nodiscard]] Instant minute_after(Instant t);

/// "15:03", rounded down: for what must be ready by then.
[[nodiscard]] std::string minute_down(Instant t, const site::Zone& zone);

/// "13:05 to 13:57 (52 min)": length and clock agree.
[[nodiscard]] std::string span_in_words(const study::Span& span, const site::Zone& zone);

/// The same with the ends rounded away from each other (trouble), or towards each other (promises).
[[nodiscard]] std::string span_outward(const study::Span& span, const site::Zone& zone);
[[nodiscard]] std::string span_inward(const study::Span& span, const site::Zone& zone);

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

}  // namespace keyhour::cli
