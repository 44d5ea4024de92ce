#pragma once
/// @file
/// A skyline from a CSV file.

#include <string>
#include <tl/expected.hpp>
#include <utility>
#include <vector>

#include "problem.hpp"

namespace keyhour::read {

/// Bearing and altitude in degrees, as read.
using SkylinePoints = std::vector<std::pair<double, double>>;

/// RFC 4180, with a header: columns bearing_deg (0..360, ascending) and altitude_deg (0..89), in
/// either order and no others. 0 and 360 are the same bearing.
/// @return one point or more, or every problem, each with its line and column
[[nodiscard]] tl::expected<SkylinePoints, std::vector<Problem>> read_skyline_csv(
    const std::string& path);

/// The same for a text in memory.
/// @param name  how problems call it
[[nodiscard]] tl::expected<SkylinePoints, std::vector<Problem>> read_skyline_csv_text(
    const std::string& text, const std::string& name);

}  // namespace keyhour::read
