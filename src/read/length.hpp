#pragma once
/// @file
/// Lengths as people write them on a recce: "127 cm", "4 ft 2 in", "4' 2 1/2\"".

#include <string>
#include <string_view>
#include <tl/expected.hpp>

namespace keyhour::read {

/// A length with its unit: m, cm, mm, ft, in (also written out, and the marks ' and "), one unit
/// or a larger and a smaller one ("4 ft 2 in", "1 m 20 cm"), fractions ("2 1/2 in"), a minus sign
/// before the whole. A foot is 0.3048 m, an inch 0.0254 m, exactly.
/// @return metres, or what is wrong with the text
[[nodiscard]] tl::expected<double, std::string> read_length(std::string_view text);

/// Does a plain number look like another unit than metres? Nothing is converted: this only asks.
struct UnitDoubt {
    std::string question;  ///< "is this feet?"
    std::string answer;    ///< `write "3 ft", or "3.0 m" if metres are meant`
};

/// @param value_m     as read, in metres
/// @param as_written  as it stands in the file
/// @param largest_m   the largest value that needs no asking
[[nodiscard]] UnitDoubt unit_doubt(double value_m, const std::string& as_written, double largest_m);

}  // namespace keyhour::read
