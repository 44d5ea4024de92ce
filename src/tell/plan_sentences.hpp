#pragma once
/// @file
/// What the timetable's text and its printed page say alike, sentence by sentence.

#include <string>
#include <vector>

#include "tell/plan_page.hpp"

namespace keyhour::tell {

/// "Taken apart: 10 scenes on 2 days, all rules kept. Of what can't be repeated ..."
[[nodiscard]] std::string plan_headline(const ask::PlanAnswer& answer, const PlanQuestion& q);

/// "LOCK 11:05 to 13:05 with its over-run: nothing is touched", "ONCE ONLY"; empty of what can be
/// repeated.
[[nodiscard]] std::string once_only_in_words(const study::Shoot& shoot,
                                             const ask::PlannedScene& planned);

/// "begin by 14:37, slack 3 h 32 min, NOT SURE within the doubt": each where it is told; pressed is
/// below two hours, or once only. Without a comma or a semicolon before it.
[[nodiscard]] std::string slack_in_words(const study::Shoot& shoot,
                                         const ask::PlannedScene& planned, bool whole_slack);

/// "20 min late all day: all holds; first to break: ..."
[[nodiscard]] std::string lateness_in_words(const ask::PlannedDay& day, const PlanQuestion& q);

/// The same shoot without sun on a day: "No sun on Tue 10 March 2026: nothing is lost. ..."; of
/// each day that has sun to lose.
struct CloudSentence {
    std::size_t day = 0;
    std::string text;
};
[[nodiscard]] std::vector<CloudSentence> clouds_in_words(const ask::PlanAnswer& answer,
                                                         const PlanQuestion& q);

/// "The days swapped: ..."; empty where that was not asked.
[[nodiscard]] std::string swapped_in_words(const ask::PlanAnswer& answer, const PlanQuestion& q);

}  // namespace keyhour::tell
