#pragma once
/// @file
/// A location with a room and the dates asked about, prepared: what every question about a room
/// starts from.

#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "keyhour/ask/question.hpp"
#include "keyhour/site/units.hpp"
#include "keyhour/study/seasonal_study.hpp"

namespace keyhour::ask {

/// Its location is as on the first date: trees stand among the buildings.
class RoomQuestion final : public Question {
public:
    /// Computes the sun's apparent place from a day before the first date to two days after the
    /// last, as spans run across midnight and a possible part may run further, and prepares the
    /// room for every season of the dates (a few milliseconds a year).
    /// @param location  as read; its trees are stood into it here
    /// @return null if the sun's series do not serve these years (dates served: 1800-01-03 to
    ///         2199-12-27)
    /// @pre location.room holds a room with a window; dates.first <= dates.last
    [[nodiscard]] static std::unique_ptr<RoomQuestion> prepare(site::Location location,
                                                               const DateRange& dates,
                                                               const site::Recce& recce = {});

    std::unique_ptr<study::SeasonalStudy> seasons;

    /// The room on the first date; names, indices and bearings are those of every date.
    [[nodiscard]] const study::RoomStudy& study() const { return seasons->on(dates.first); }
    [[nodiscard]] const study::RoomStudy& study_on(site::LocalDate date) const {
        return seasons->on(date);
    }

    /// Does the bearing give no window sun all year, where the opposite one would?
    [[nodiscard]] bool looks_reversed() const;

    /// What was understood, line by line: site::read_back of these dates.
    [[nodiscard]] std::vector<std::string> read_back(site::Units units = site::Units::metres) const;

private:
    RoomQuestion(site::Location where, const DateRange& when, const site::Recce& how)
        : Question{std::move(where), when, how} {}
};

}  // namespace keyhour::ask
