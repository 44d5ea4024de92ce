#pragma once
/// @file
/// [rigging] and [[task]].

#include "fields.hpp"
#include "keyhour/site/rigging.hpp"

namespace keyhour::read {

[[nodiscard]] site::Rigging read_rigging_tables(Fields& root, Findings& findings);

}  // namespace keyhour::read
