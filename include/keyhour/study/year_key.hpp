#pragma once
/// @file
/// The clean keys of every day of a year at one mark, and the site's first and last sun beside
/// them.

#include <optional>
#include <string>
#include <vector>

#include "keyhour/site/dates.hpp"
#include "keyhour/study/clean_key.hpp"
#include "keyhour/study/seasonal_study.hpp"

namespace keyhour::study {

/// One date of the year's drawing.
struct KeyDay {
    site::LocalDate date;
    Instant from, to;                    ///< the local date
    std::vector<KeyInterval> intervals;  ///< best first, not described
    std::optional<Instant> first_sun,
        last_sun;  ///< over the site's skyline, as study::Day has them
};

/// The keys of one mark over a year.
struct KeyYear {
    std::size_t mark = 0;  ///< index into Room::marks
    date::year year{};
    std::vector<KeyDay> days;                      ///< every date of the year, ascending
    std::vector<site::ClockChange> clock_changes;  ///< of the site's zone
};

/// The sun's track that a year's keys need. @return null if the year is not served
[[nodiscard]] std::shared_ptr<const SharedTrack> track_of_year(const site::Zone& zone,
                                                               date::year year);

/// @param seasons  over the whole year, with track_of_year
/// @param mark     index into the room's marks
[[nodiscard]] KeyYear key_year(const SeasonalStudy& seasons, std::size_t mark, date::year year,
                               const KeySettings& settings = {});

}  // namespace keyhour::study
