#pragma once
/// @file
/// What somebody found when a clock was compared with another.

#include <string>
#include <tl/expected.hpp>

namespace keyhour::read {

/// "1 h fast", "30 min slow", "5 h 45 min fast", "90 s slow", "right". Fast: it showed more than
/// the time.
/// @return seconds fast, negative: slow, at most a day; or what is wrong and what is accepted
[[nodiscard]] tl::expected<double, std::string> read_clock_error(const std::string& text);

}  // namespace keyhour::read
