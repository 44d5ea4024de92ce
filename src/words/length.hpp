#pragma once
/// @file
/// Lengths as the crew tapes them: metres, or feet and inches to the half inch.

#include <string>

#include "keyhour/site/units.hpp"

namespace keyhour::words {

/// Which way a length that must be cut or reached is rounded.
enum class Rounding { nearest, up, down };

/// "2.41 m"; "4 ft 2 in", "6 1/2 in", "5 ft".
/// @param decimals  of metres; feet always go to the half inch
[[nodiscard]] std::string length(double metres, site::Units units, int decimals = 2,
                                 Rounding rounding = Rounding::nearest);

/// Width by height, one unit for both in metres: "1.40 x 1.60 m"; "4 ft 7 in x 5 ft 3 in".
[[nodiscard]] std::string size(double width_m, double height_m, site::Units units,
                               Rounding rounding = Rounding::nearest);

/// How far off something is put: as taped, and from ten metres on to the foot or the decimetre:
/// "2.41 m", "54.1 m"; "7 ft 11 in", "177 ft".
[[nodiscard]] std::string placed_length(double metres, site::Units units);

/// What is known to a few per cent, as a shadow: "3.4 m", "112 m"; "5 ft 7 in", "367 ft".
[[nodiscard]] std::string rough_length(double metres, site::Units units);

/// A height above the sea: "61 m"; "200 ft".
[[nodiscard]] std::string elevation(double metres, site::Units units);

/// A few centimetres: "61 cm"; "24 in".
[[nodiscard]] std::string small_length(double metres, site::Units units,
                                       Rounding rounding = Rounding::nearest);

/// Two digits: "4.5 m2"; "48 sq ft".
[[nodiscard]] std::string area(double square_metres, site::Units units);

/// "2.2 cm/min"; "0.9 in/min".
[[nodiscard]] std::string speed(double metres_per_minute, site::Units units);

}  // namespace keyhour::words
