#pragma once
/// @file
/// Would one error of the clock behind all times explain what the observations disagree about?
///
/// One clock is one witness: sightings of the sun that were timed by it err together, and however
/// many they are they can't outvote a compass and a map. Each error that people commonly make
/// (summer time forgotten or left on, half an hour, twelve hours, UTC taken for local time) is put
/// to the test against the clock being right.

#include <optional>
#include <string>
#include <vector>

#include "keyhour/site/location.hpp"
#include "keyhour/study/observation.hpp"
#include "keyhour/study/sun_path.hpp"

namespace keyhour::study {

/// One state of the clock that was tried.
struct ClockTrial {
    enum class Kind {
        right,
        hour,
        half_hour,
        half_day,
        other_offset,
        utc_for_local,
        local_for_utc,
        found
    };
    Kind kind = Kind::right;
    double fast_s = 0;  ///< the clock showed so much more than the time; negative: less
    /// Chi-square of what was used, and a price for each observation that had to be set aside and
    /// for the error itself: minus twice the logarithm of how rare it is.
    double cost = 0;
    double plan_deg = 0;                 ///< bearing of the plan's +y axis in this case, 0..360
    double sigma_deg = 0;                ///< of it
    double chance = 1;                   ///< of a chi-square as large or larger
    std::vector<std::size_t> set_aside;  ///< observations that do not fit even so
};

/// Which state of the clock the observations speak for.
struct ClockVerdict {
    /// Those at which the sun could be seen at all, the likeliest first.
    std::vector<ClockTrial> trials;
    /// The error that explains them better than a clock that is right: nothing is decided then.
    std::optional<ClockTrial> suspected;
};

/// @param location  with a room; @param path  two days to either side of the observations
/// @pre each observation is possible at some of the shifts, or no trial is made of them
[[nodiscard]] ClockVerdict try_clock(const site::Location& location, const SunPath& path,
                                     const std::vector<Observation>& observations,
                                     double clock_within_s);

/// Each of the observations as it was if the clock was so much fast: its time put right.
[[nodiscard]] std::vector<Observation> with_clock_fast(std::vector<Observation> observations,
                                                       double fast_s);

/// "1 h fast", "30 min slow", "5 h 45 min fast"; "right" for less than half a minute.
[[nodiscard]] std::string clock_in_words(double fast_s);

}  // namespace keyhour::study
