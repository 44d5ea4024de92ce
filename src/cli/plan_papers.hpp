#pragma once
// What plan writes: a page a day, the calendar, the spreadsheet.

#include <iosfwd>
#include <string>
#include <vector>

#include "failure.hpp"
#include "tell/plan_page.hpp"

namespace keyhour::cli {

struct PlanPapers {
    std::string folder;               // made if absent
    bool force = false, pdf = false;  // pdf: the pages printed too
    std::vector<std::string> inputs;  // never written over
};

/// Is everything that would be written free to be? Told before the plan is made.
[[nodiscard]] std::optional<Failure> may_write_plan(const study::Shoot& shoot,
                                                    const PlanPapers& papers);

/// plan-2026-03-10.html for each day with scenes, plan.ics, plan.csv; their names go to `out`.
/// @pre the answer has a plan
[[nodiscard]] std::optional<Failure> write_plan(const ask::PlanAnswer& answer,
                                                const tell::PlanQuestion& q,
                                                const PlanPapers& papers, std::ostream& out,
                                                std::ostream& err);

}  // namespace keyhour::cli
