#include "words/digits.hpp"

#include <fmt/format.h>

#include <cmath>

namespace keyhour::words {

namespace {

double rounded_to(int digits, double value) {
    if (!(value > 0)) return 0;
    const double unit = std::pow(10, std::floor(std::log10(value)) - (digits - 1));
    return std::round(value / unit) * unit;
}

}  // namespace

double two_digits(double value) {
    return rounded_to(2, value);
}

double one_digit(double value) {
    return rounded_to(1, value);
}

std::string one_digit_text(double value) {
    return fmt::format("{:.{}g}", one_digit(value), one_digit(value) < 1 ? 1 : 15);
}

std::string two_digit_text(double value) {
    const double rounded = two_digits(value);
    if (rounded > 0 && rounded < 1) return fmt::format("{:.2g}", rounded);
    return fmt::format("{:.{}f}", rounded, rounded < 10 && rounded > 0 ? 1 : 0);
}

}  // namespace keyhour::words
