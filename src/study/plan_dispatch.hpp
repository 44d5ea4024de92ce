#pragma once
/// @file
/// A first plan soon: scene after scene takes the slot that is most urgent, many times over with
/// some chance in it. It proves nothing; the search begins from what it finds.

#include <optional>

#include "plan_tables.hpp"

namespace keyhour::study {

/// @param rounds  how often a plan is tried to be made from its beginning
/// @param enough  of those made, the best of so many is taken
[[nodiscard]] std::optional<Plan> dispatched_plan(const PlanTables& tables, int rounds, int enough);

}  // namespace keyhour::study
