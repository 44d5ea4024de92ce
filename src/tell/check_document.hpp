#pragma once
/// @file
/// `check` as one JSON document.

#include "tell/check_page.hpp"
#include "tell/document.hpp"

namespace keyhour::tell {

/// Everything that the file describes. @param read_back  in metres
[[nodiscard]] Json json_of(const CheckAnswer& answer, const std::vector<std::string>& read_back);

}  // namespace keyhour::tell
