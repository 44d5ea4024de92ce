#pragma once
/// @file
/// `match` in words: when a logged shot's light comes again, and what will differ.

#include <string>
#include <vector>

#include "keyhour/ask/match.hpp"
#include "keyhour/site/dates.hpp"
#include "tell/detail.hpp"
#include "tell/opening.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

/// What was asked, beside the answer.
struct MatchQuestion {
    const study::LoggedShot& shot;
    Instant shot_at;
    std::string where;              ///< "day.log:3": without its folder
    std::vector<std::string> loud;  ///< what has changed since, or contradicts; each a sentence
    study::MatchSettings settings;
    Dates dates;
    site::Recce recce;
    std::size_t most = 3;  ///< dates told
    Details show;
};

[[nodiscard]] Paragraphs match_page(const ask::MatchAnswer& answer, const MatchQuestion& q);

/// A line of at most 140 characters for each date that agrees, the earliest first; one that says so
/// where none does.
[[nodiscard]] std::vector<std::string> match_messages(const ask::MatchAnswer& answer,
                                                      const MatchQuestion& q);

/// Changes of the clocks between the shot and the dates, but for those on the dates.
[[nodiscard]] std::vector<site::ClockChange> changes_between(const site::Zone& zone, Instant shot,
                                                             const Dates& dates);

}  // namespace keyhour::tell
