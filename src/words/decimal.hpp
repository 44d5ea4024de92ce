#pragma once
/// @file
/// Decimal numbers in a text: std::from_chars, also where a C++ library has it for whole numbers
/// alone.

#include <charconv>
#include <string_view>

namespace keyhour::words {

/// How a number may be written.
enum class Notation { any, without_exponent };

/// As std::from_chars, whatever the locale: no blank and no plus sign before the number.
/// @param value  set where the result has no error
[[nodiscard]] std::from_chars_result read_decimal(std::string_view text, double& value,
                                                  Notation notation = Notation::any);

}  // namespace keyhour::words
