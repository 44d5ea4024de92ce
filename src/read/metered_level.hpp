#pragma once
/// @file
/// What an incident meter showed, in lx or as an exposure value.

#include <optional>

#include "fields.hpp"

namespace keyhour::read {

/// `lux = 420`, or `ev = 7.4` at ISO 100 (ISO 2720, C = 250): one of the two, in lx; or complaints.
[[nodiscard]] std::optional<double> read_metered_level(Fields& fields);

}  // namespace keyhour::read
