#pragma once
/// @file
/// When does the sun rise, stand highest and set on a date, and how bright is it outside meanwhile?

#include <vector>

#include "keyhour/ask/site_question.hpp"
#include "keyhour/study/day.hpp"
#include "keyhour/study/day_light.hpp"

namespace keyhour::ask {

struct DayRequest {
    study::LateLightBand band;  ///< altitudes between which light is called late
    bool light = false;         ///< levels and colour, and the sky's in late light
};

struct DayAnswer {
    study::Day day;
    std::vector<study::DayLight> light;  ///< by event and whole hour, ascending; empty: not asked
};

/// One date: study::day over the site's own horizon, with study::day_light and study::add_sky if
/// the request asks for light.
/// @pre the date is one of the question's
[[nodiscard]] DayAnswer day(const SiteQuestion& question, site::LocalDate date,
                            const DayRequest& request = {});

}  // namespace keyhour::ask
