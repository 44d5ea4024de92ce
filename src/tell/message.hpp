#pragma once
/// @file
/// Lines that fit a message.

#include <cstddef>
#include <string>
#include <vector>

namespace keyhour::tell {

inline constexpr std::size_t message_characters = 140;

/// The parts one after another, leaving out those that do not fit 140 characters any more; the
/// first is cut to what fits.
[[nodiscard]] std::string message(const std::vector<std::string>& parts);

/// "HEAD: FIRST, SECOND": as many items as fit, then " and 2 more".
[[nodiscard]] std::string message_of_list(const std::string& head,
                                          const std::vector<std::string>& items);

}  // namespace keyhour::tell
