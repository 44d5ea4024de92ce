#include "decimal.hpp"

#include <cmath>
#include <cstdlib>
#include <string>
#include <version>

namespace keyhour::words {

#ifdef __cpp_lib_to_chars

std::from_chars_result read_decimal(std::string_view text, double& value, Notation notation) {
    const auto format =
        notation == Notation::any ? std::chars_format::general : std::chars_format::fixed;
    return std::from_chars(text.data(), text.data() + text.size(), value, format);
}

#else

namespace {

std::size_t digits_at(std::string_view text, std::size_t at) {
    const std::size_t end = text.find_first_not_of("0123456789", at);
    return (end == std::string_view::npos ? text.size() : end) - at;
}

/// How much of the text is a number; 0 if it begins with none.
std::size_t length_of_number(std::string_view text, Notation notation) {
    std::size_t at = text.starts_with('-') ? 1 : 0;
    const std::size_t whole = digits_at(text, at);
    at += whole;
    std::size_t part = 0;
    if (at < text.size() && text[at] == '.') {
        part = digits_at(text, at + 1);
        if (whole + part > 0) at += 1 + part;
    }
    if (whole + part == 0) return 0;
    if (notation == Notation::without_exponent || at >= text.size() ||
        (text[at] != 'e' && text[at] != 'E'))
        return at;
    const std::size_t sign = at + 1 < text.size() && (text[at + 1] == '+' || text[at + 1] == '-');
    const std::size_t exponent = at + 1 + sign <= text.size() ? digits_at(text, at + 1 + sign) : 0;
    return exponent == 0 ? at : at + 1 + sign + exponent;
}

}  // namespace

std::from_chars_result read_decimal(std::string_view text, double& value, Notation notation) {
    const std::size_t length = length_of_number(text, notation);
    if (length == 0) return {text.data(), std::errc::invalid_argument};
    const std::string number{text.substr(0, length)};
    const double read = std::strtod(number.c_str(), nullptr);
    const bool has_digit = number.find_first_of("123456789") < number.find_first_of("eE");
    if (!std::isfinite(read) || (read == 0 && has_digit))
        return {text.data() + length, std::errc::result_out_of_range};
    value = read;
    return {text.data() + length, std::errc{}};
}

#endif

}  // namespace keyhour::words
