#include "words/digits.hpp"

#include <fmt/format.h>

#include <cmath>

namespace keyhour::words {

double two_digits(double value) {
    if (!(value > 0)) return 0;
    const double unit = std::pow(10, std::floor(std::log10(value)) - 1);
    return std::round(value / unit) * unit;
}

std::string two_digit_text(double value) {
    const double rounded = two_digits(value);
    if (rounded > 0 && rounded < 1) return fmt::format("{:.2g}", rounded);
    return fmt::format("{:.{}f}", rounded, rounded < 10 && rounded > 0 ? 1 : 0);
}

}  // namespace keyhour::words
