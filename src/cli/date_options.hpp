#pragma once
// --date, --from and --to: which local dates a question is about.

#include <memory>
#include <string>

#include "failure.hpp"
#include "keyhour/site/zone.hpp"
#include "keyhour/study/sun_path.hpp"
#include "tell/opening.hpp"

namespace keyhour::cli {

class Options;

struct DateRange {
    site::LocalDate first, last;  // inclusive
    bool is_range = false;        // asked for with --from and --to, even if of one date
    bool is_today = false;        // nothing was asked for: today at the site
};

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

/// For the words of an answer.
[[nodiscard]] tell::Dates told_dates(const DateRange& dates);

/// The system's clock.
[[nodiscard]] Instant now();

}  // namespace keyhour::cli
