#pragma once
/// @file
/// No more digits than a figure is known to.

#include <string>

namespace keyhour::words {

/// Rounded to two digits; 0 for what is not above 0.
[[nodiscard]] double two_digits(double value);

/// "0.54", "5.2", "34", "310", "5200".
[[nodiscard]] std::string two_digit_text(double value);

/// The same with one digit, for what is known to a factor 2.
[[nodiscard]] double one_digit(double value);
[[nodiscard]] std::string one_digit_text(double value);

}  // namespace keyhour::words
