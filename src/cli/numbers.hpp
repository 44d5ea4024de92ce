#pragma once
// Numbers as they are typed on a command line.

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <utility>

#include "keyhour/sun/instant.hpp"

namespace keyhour::cli {

/// A decimal number, as 1.5, -4 or 2e3, and nothing else: no "nan", no "inf", no "0x10".
/// @param unit  in words, for what is said of another text; may be empty
/// @return or what is wrong, with what was found and what is accepted
[[nodiscard]] tl::expected<double, std::string> read_number(const std::string& text,
                                                            std::string_view unit);

/// Inclusive.
struct WholeBounds {
    std::int64_t least;
    std::uint64_t most;
};

/// A whole decimal number within the bounds, in two's complement where it is negative.
[[nodiscard]] tl::expected<std::uint64_t, std::string> read_whole_number(const std::string& text,
                                                                         std::string_view unit,
                                                                         WholeBounds bounds);

/// "25,70": two finite numbers, lowest <= first < second <= highest.
[[nodiscard]] tl::expected<std::array<double, 2>, std::string> read_pair(const std::string& text,
                                                                         double lowest,
                                                                         double highest);

/// "08:00,20:00": two times of one day, the earlier first; as time since local midnight.
[[nodiscard]] tl::expected<std::pair<Seconds, Seconds>, std::string> read_hours(
    const std::string& text);

}  // namespace keyhour::cli
