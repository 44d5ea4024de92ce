#pragma once
// A number typed with its unit, as the answers print it: "2.17 m", "1 h 21 min", "63 klx".

#include <optional>
#include <string>
#include <string_view>

namespace keyhour::cli {

/// @param shown  what the help shows for the option's value: "M", "MIN", "DEG", "LX"
/// @return the number in the option's own unit; nothing if the text has no unit, or one of another
///         kind
[[nodiscard]] std::optional<double> read_with_unit(const std::string& text, std::string_view shown);

}  // namespace keyhour::cli
