#pragma once
// --date, --from and --to: which local dates a question is about.

#include <memory>
#include <optional>
#include <string>

#include "failure.hpp"
#include "keyhour/ask/date_range.hpp"
#include "keyhour/site/zone.hpp"
#include "keyhour/study/sun_path.hpp"
#include "tell/opening.hpp"

namespace keyhour::cli {

class Options;

using ask::DateRange;

struct DateOptions {
    std::string date, from, to;

    void offer(Options& command);

    /// @param now  for "today" when no date is given
    [[nodiscard]] Answer<DateRange> read(const site::Zone& zone, Instant now) const;
};

/// The sun over all of the dates and `margin` to either side.
/// @param margin  at most 9 hours, so that the first and last dates served have theirs
[[nodiscard]] std::shared_ptr<const study::SharedTrack> track_of(const DateRange& dates,
                                                                 const site::Zone& zone,
                                                                 Seconds margin = Seconds{3600});

/// Why a question about a room has no answer in other years.
inline constexpr const char* years_served =
    "a question about a room looks two days beyond its dates; dates served: 1800-01-03 to "
    "2199-12-27";

/// For the words of an answer.
[[nodiscard]] tell::Dates told_dates(const DateRange& dates);

/// The system's clock.
[[nodiscard]] Instant now();
/// What now() says from then on, in this thread: for a host without a clock. Nothing: the clock
/// again.
void stop_clock(std::optional<Instant> at);

}  // namespace keyhour::cli
