#pragma once
// Numbers as they are typed on a command line.

#include <array>
#include <string>
#include <tl/expected.hpp>
#include <utility>

#include "keyhour/sun/instant.hpp"

namespace keyhour::cli {

/// "25,70": two finite numbers, lowest <= first < second <= highest.
[[nodiscard]] tl::expected<std::array<double, 2>, std::string> read_pair(const std::string& text,
                                                                         double lowest,
                                                                         double highest);

/// "08:00,20:00": two times of one day, the earlier first; as time since local midnight.
[[nodiscard]] tl::expected<std::pair<Seconds, Seconds>, std::string> read_hours(
    const std::string& text);

}  // namespace keyhour::cli
