#pragma once
/// @file
/// A location and the dates asked about, prepared: what every question about the sun outside
/// starts from. A room is not needed.

#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "keyhour/ask/question.hpp"
#include "keyhour/site/units.hpp"
#include "keyhour/study/sun_path.hpp"

namespace keyhour::ask {

class SiteQuestion final : public Question {
public:
    /// Computes the sun's apparent place from `margin` before the first date to `margin` after the
    /// last (about a millisecond a year).
    /// @param location  as read; with its trees as in the file
    /// @param margin    at most 9 hours, so that the first and last dates served have theirs
    /// @return null if the sun's series do not serve these years (dates served: 1800-01-02 to
    ///         2199-12-30)
    /// @pre dates.first <= dates.last
    [[nodiscard]] static std::unique_ptr<SiteQuestion> prepare(site::Location location,
                                                               const DateRange& dates,
                                                               const site::Recce& recce = {},
                                                               Seconds margin = Seconds{3600});

    std::shared_ptr<const study::SharedTrack> track;

    /// What was understood of the site, line by line: site::site_read_back of these dates.
    [[nodiscard]] std::vector<std::string> read_back(site::Units units = site::Units::metres) const;

private:
    SiteQuestion(site::Location where, const DateRange& when, const site::Recce& how)
        : Question{std::move(where), when, how} {}
};

}  // namespace keyhour::ask
