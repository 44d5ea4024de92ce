#pragma once
/// @file
/// Hours of direct sun through each window over a year: how a wrong bearing is noticed.

#include <array>
#include <optional>
#include <vector>

#include "keyhour/site/location.hpp"
#include "keyhour/site/zone.hpp"
#include "keyhour/sun/instant.hpp"

namespace keyhour::study {

/// 20 March, 21 June and 21 December: an equinox and both solstices, within a day or so, which
/// changes no window's hours by more than minutes.
[[nodiscard]] std::array<site::LocalDate, 3> turning_dates(date::year year);

/// Sun through one window's opening, at the stated bearing; its cover is not looked at.
struct WindowHours {
    std::array<Seconds, 3> on_turning_dates{};
    bool sun_in_year = false;  ///< on any date of the year
    /// The most sun on a turning date with the room turned half round, if sun_in_year is false:
    /// what a bearing read facing in instead of out has hidden.
    struct Opposite {
        site::LocalDate date;
        Seconds sun{0};
    };
    std::optional<Opposite> opposite;
};

/// One for each window of the room.
/// @pre location.room holds a room; year 1801..2198
[[nodiscard]] std::vector<WindowHours> window_hours(const site::Location& location,
                                                    date::year year);

}  // namespace keyhour::study
