#pragma once
/// @file
/// Levels, ratios and stops as people read them: no more digits than the air allows.

#include <string>

#include "keyhour/light/clear_sky.hpp"

namespace keyhour::words {

/// "310 lx", "5.2 klx", "34 klx": two digits.
[[nodiscard]] std::string level(double lx);

/// "21 to 34 klx"; one unit for both, one number where both read the same.
[[nodiscard]] std::string level_range(double from_lx, double to_lx);

/// The likely level: "63 klx" where the air leaves it within a stop, else one digit, "60 klx".
[[nodiscard]] std::string level(const light::Band& over_airs);
[[nodiscard]] std::string level_range(const light::Band& from, const light::Band& to);
/// From the lowest to the highest, likewise.
[[nodiscard]] std::string spread(const light::Band& over_airs);

/// "300 lx": one digit, for what is known to a factor 2 or less.
[[nodiscard]] std::string rough_level(double lx);

/// "about 300 lx", "about 300 to 200 lx": a fill, good to a factor 2, has one digit.
[[nodiscard]] std::string fill_level(double lx);
[[nodiscard]] std::string fill_range(double from_lx, double to_lx);

/// "about 90:1"; "about 100:1 to 50:1". A ratio to such a fill.
[[nodiscard]] std::string ratio(double from, double to);

/// "about 7 stops", "about 7 to 6 stops": the same ratio, known to a stop.
[[nodiscard]] std::string stops_over_fill(double from, double to);

/// "14 2/3", "-1/3 to 1": exposure values to the third.
[[nodiscard]] std::string exposure_values(double from, double to);

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
