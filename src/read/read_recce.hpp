#pragma once
/// @file
/// [site] units, and how the bearing was measured. read_location checks the same tables.

#include <string>
#include <string_view>

#include "changes.hpp"
#include "keyhour/site/recce.hpp"

namespace keyhour::read {

/// Of a file that read_location accepts; the defaults for any other.
[[nodiscard]] site::Recce read_recce(const std::string& path, const Changes& changes = {});

[[nodiscard]] site::Recce read_recce_text(std::string_view text, const Changes& changes = {});

}  // namespace keyhour::read
