#pragma once
/// @file
/// [site] units, and how the bearing was measured. read_location checks the same tables.

#include <string>
#include <string_view>

#include "keyhour/site/recce.hpp"

namespace keyhour::read {

/// Of a file that read_location accepts; the defaults for any other.
[[nodiscard]] site::Recce read_recce(const std::string& path);

[[nodiscard]] site::Recce read_recce_text(std::string_view text);

}  // namespace keyhour::read
