#pragma once
/// @file
/// Levels, ratios and stops as people read them: no more digits than the air allows.

#include <string>

namespace keyhour::words {

/// "310 lx", "5.2 klx", "34 klx": two digits.
[[nodiscard]] std::string level(double lx);

/// "21 to 34 klx"; one unit for both, one number where both read the same.
[[nodiscard]] std::string level_range(double from_lx, double to_lx);

/// "about 85:1"; "about 120:1 to 49:1". A ratio to a fill that is good to a factor 2.
[[nodiscard]] std::string ratio(double from, double to);

/// "5 2/3", "1/3", "0": the nearest third, of a number >= 0.
[[nodiscard]] std::string thirds(double stops);
[[nodiscard]] std::string thirds_range(double from, double to);

/// "T4", "T2.8 1/3": the nearest third of a T number.
[[nodiscard]] std::string t_stop(double t_number);

/// "6.9 to 5.6", or one number where both read the same.
[[nodiscard]] std::string range(double from, double to, int decimals);

/// "+0.3", "-1.2", "0.0".
[[nodiscard]] std::string signed_stops(double stops);

}  // namespace keyhour::words
