#pragma once
/// @file
/// `plan` as JSON and CSV.

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "keyhour/ask/plan.hpp"
#include "tell/document.hpp"

namespace keyhour::tell {

/// The whole answer. @param late_min  that PlannedDay::breaks_late is about
[[nodiscard]] Json plan_document(const study::Shoot& shoot, const ask::PlanAnswer& answer,
                                 int late_min);

/// The record of names.
[[nodiscard]] std::string plan_csv_head();

/// RFC 4180: a record a scene that is planned, ascending.
[[nodiscard]] std::string plan_csv(const study::Shoot& shoot, const ask::PlanAnswer& answer);

}  // namespace keyhour::tell
