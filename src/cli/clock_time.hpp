#pragma once
// A time of the day as it is typed: "13:30", or as the answers print it, "13:30 (UTC+00:00)".

#include <chrono>
#include <optional>
#include <string>
#include <tl/expected.hpp>

#include "keyhour/site/zone.hpp"

namespace keyhour::cli {

struct ClockTime {
    std::chrono::seconds time{};                     ///< since midnight
    std::optional<std::chrono::seconds> utc_offset;  ///< where it was typed

    /// The instant on a date. An offset must be the clocks' own then; it tells apart the two
    /// readings of an hour that comes twice.
    /// @return or what is wrong, with the offset that the clocks have
    [[nodiscard]] tl::expected<Instant, std::string> on(site::LocalDate date,
                                                        const site::Zone& zone) const;
};

/// "13:30", "13:30:20", with or without "UTC+01:00", "(UTC+01:00)", "+01:00" or "Z" behind.
[[nodiscard]] tl::expected<ClockTime, std::string> read_clock_time(const std::string& text);

}  // namespace keyhour::cli
