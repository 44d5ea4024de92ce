#pragma once
/// @file
/// Dates and times as people type and read them: ISO 8601 in, ISO 8601 and plain words out.

#include <chrono>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "keyhour/site/zone.hpp"
#include "keyhour/sun/instant.hpp"

namespace keyhour::site {

/// First and last local date served; the sun's own limits are a day further out, so that the whole
/// day is served in every zone.
inline constexpr LocalDate first_date{date::year{1800}, date::month{1}, date::day{2}};
inline constexpr LocalDate last_date{date::year{2199}, date::month{12}, date::day{30}};

/// "2026-03-10". @return the date, or what was found, why it is refused and what to write instead
[[nodiscard]] tl::expected<LocalDate, std::string> read_date(const std::string& text);

/// "HH:MM" or "HH:MM:SS", 00:00 to 23:59:59. @return seconds since midnight, or the reason
[[nodiscard]] tl::expected<std::chrono::seconds, std::string> read_time_of_day(
    const std::string& text);

/// "2026-03-10T15:03", "2026-03-10 15:03:12": a local time without zone.
[[nodiscard]] tl::expected<LocalTime, std::string> read_local_time(const std::string& text);

/// "2026-03-10T15:03:12.25Z": UTC; seconds, their fraction and the Z may be left out.
[[nodiscard]] tl::expected<Instant, std::string> read_utc(const std::string& text);

/// "2026-03-10T15:03:12Z", rounded to `decimals` of a second (0..6).
[[nodiscard]] std::string iso_utc(Instant t, int decimals = 0);

/// "2026-03-10T15:03:12+00:00" on the clock of the zone; seconds of the offset only where it has
/// some (before standard time).
[[nodiscard]] std::string iso_local(Instant t, const Zone& zone, int decimals = 0);

/// "2026-03-10".
[[nodiscard]] std::string iso_date(LocalDate day);

/// "2026-03-10T15:03:12", of a local time that has no instant.
[[nodiscard]] std::string iso_local_time(LocalTime local);

/// "15:03": the nearest whole minute, but never one of another date.
[[nodiscard]] std::string whole_minutes(Instant t, const Zone& zone);

/// "UTC+01:00".
[[nodiscard]] std::string utc_offset(std::chrono::seconds offset);

/// "Tuesday 10 March 2026".
[[nodiscard]] std::string date_in_words(LocalDate day);

/// The date on the clock of the zone at an instant.
[[nodiscard]] LocalDate local_date(Instant t, const Zone& zone);

/// The next date.
[[nodiscard]] LocalDate next_day(LocalDate day);

/// A change of the clocks, and the local date on which it falls.
struct ClockChange {
    LocalDate day;
    std::chrono::seconds before{}, after{};  ///< UTC offsets
};

/// All changes on the local dates first..last, inclusive, ascending.
[[nodiscard]] std::vector<ClockChange> clock_changes(const Zone& zone, LocalDate first,
                                                     LocalDate last);

/// "clocks go forward 1 hour on Sunday 29 March 2026 (UTC+00:00 to UTC+01:00)".
[[nodiscard]] std::string in_words(const ClockChange& change);

}  // namespace keyhour::site
