#pragma once
/// @file
/// Hours of work, as files give them.

#include <optional>
#include <string_view>

#include "fields.hpp"
#include "keyhour/site/lock_plan.hpp"

namespace keyhour::read {

/// "08:00" and "24:00" in a pair; the earlier first. @return nothing if absent or complained about
[[nodiscard]] std::optional<site::WorkingHours> read_hours(Fields& fields, std::string_view key);

}  // namespace keyhour::read
