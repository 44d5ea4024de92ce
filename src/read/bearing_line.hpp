#pragma once
/// @file
/// A room's bearing as its location file says it: the line to paste, and the file with that one
/// value changed.

#include <string>
#include <string_view>
#include <tl/expected.hpp>

namespace keyhour::read {

/// A measured bearing, from true north.
struct BearingValue {
    std::string wall;
    double faces_deg = 0;   ///< 0..360
    double within_deg = 0;  ///< 0..45
};

/// Rounded as the file gets it: a tenth of a degree, the doubt upward; 0..359.9 and 0.1..45.
[[nodiscard]] BearingValue rounded(BearingValue value);

/// `bearing = { wall = "street", faces = 198.4, north = "true", within_deg = 0.9 }`
[[nodiscard]] std::string bearing_line(const BearingValue& value);

/// The text of a location file with its bearing changed and nothing else: every comment, blank and
/// line end stays. Inline table, [room.bearing] and dotted keys are known. `measured`, the date of
/// a compass reading, goes where it stands in an inline table; elsewhere it stays.
/// @param name  of the file, for messages
/// @return the new text, read again and found to say just this; or why it can't be
[[nodiscard]] tl::expected<std::string, std::string> with_bearing(std::string_view text,
                                                                  const std::string& name,
                                                                  const BearingValue& value);

}  // namespace keyhour::read
