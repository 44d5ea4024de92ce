#pragma once
/// @file
/// The clean keys of one place on many dates, and which of them a crew can use: date by date, or
/// the best of all. Memory does not grow with the dates.

#include <functional>
#include <memory>
#include <span>

#include "keyhour/site/location.hpp"
#include "keyhour/study/best_key.hpp"

namespace keyhour::ask {

struct ChoiceRequest {
    study::KeySettings settings;
    study::KeyCriteria criteria;
    bool misses = false;    ///< where there is no interval, what came nearest: costs a search more
    bool keep_all = false;  ///< all that fit, not only the best
    bool described = true;  ///< with all that is told beside the times
    bool only_fitting = false;  ///< what does not fit is not shown, hence not described
};

/// @param study  of the date's season
using TakeChoice = std::function<void(const study::RoomStudy& study, study::DateChoice& choice)>;

/// Date by date, season by season: between two of them leaves open or fall.
/// @param location  as read, with a room that has a window and a mark
/// @param dates     ascending, each once; may be empty
/// @param shared    the sun from two days before the first date to three days after the last
void for_each_choice(const site::Location& location, std::span<const site::LocalDate> dates,
                     const std::shared_ptr<const study::SharedTrack>& shared,
                     const ChoiceRequest& request, const TakeChoice& take);

/// The best of all dates, described. @pre there is a date; else as for_each_choice
[[nodiscard]] study::KeyChoice choice_of_range(
    const site::Location& location, std::span<const site::LocalDate> dates,
    const std::shared_ptr<const study::SharedTrack>& shared, const ChoiceRequest& request);

}  // namespace keyhour::ask
