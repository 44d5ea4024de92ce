#pragma once
/// @file
/// `plan` in words: a timetable for people, or what rules can't be kept together.

#include "keyhour/ask/plan.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

struct PlanQuestion {
    const study::Shoot& shoot;
    int late_min = 20;         ///< for what breaks first
    bool is_replan = false;    ///< the rest of a shoot under way
    bool whole_slack = false;  ///< the slack of every scene by itself, stated and sure
};

/// The answer in a sentence, the days with their rows, then what is at risk.
[[nodiscard]] Paragraphs plan_page(const ask::PlanAnswer& answer, const PlanQuestion& q);

}  // namespace keyhour::tell
