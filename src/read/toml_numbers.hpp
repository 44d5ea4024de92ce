#pragma once
/// @file
/// Numbers of TOML, whole or not.

#include "fields.hpp"

namespace keyhour::read {

/// Is it a number at all?
[[nodiscard]] inline bool is_number(const toml::node& node) {
    return node.is_integer() || node.is_floating_point();
}

/// 0 if it is none.
[[nodiscard]] inline double as_number(const toml::node& node) {
    return node.value<double>().value_or(0);
}

}  // namespace keyhour::read
