#include "words/length.hpp"

#include <fmt/format.h>

#include <cmath>

#include "words/digits.hpp"

namespace keyhour::words {
namespace {

constexpr double inch_m = 0.0254, foot_m = 0.3048;
constexpr long halves_a_foot = 24;
constexpr double tiny = 1e-9;  // what arithmetic adds to a whole number is not rounded up

double rounded(double value, Rounding rounding) {
    switch (rounding) {
        case Rounding::up:
            return std::ceil(value - tiny);
        case Rounding::down:
            return std::floor(value + tiny);
        case Rounding::nearest:
            break;
    }
    return std::round(value);
}

std::string inches(long halves) {
    if (halves % 2 == 0) return fmt::format("{} in", halves / 2);
    return halves == 1 ? std::string{"1/2 in"} : fmt::format("{} 1/2 in", halves / 2);
}

std::string feet_and_inches(double metres, Rounding rounding) {
    const long halves = static_cast<long>(rounded(2 * metres / inch_m, rounding));
    const long size = std::labs(halves), feet = size / halves_a_foot, rest = size % halves_a_foot;
    std::string text = halves < 0 ? "-" : "";
    if (feet > 0) text += fmt::format("{} ft", feet);
    if (feet > 0 && rest > 0) text += ' ';
    if (feet == 0 || rest > 0) text += inches(rest);
    return text;
}

std::string in_metres(double metres, int decimals, Rounding rounding) {
    const double scale = std::pow(10, decimals);
    // Nothing has no sign.
    return fmt::format("{:.{}f}", rounded(metres * scale, rounding) / scale + 0.0, decimals);
}

}  // namespace

std::string length(double metres, site::Units units, int decimals, Rounding rounding) {
    if (units == site::Units::feet) return feet_and_inches(metres, rounding);
    return in_metres(metres, decimals, rounding) + " m";
}

std::string placed_length(double metres, site::Units units) {
    constexpr double far_m = 9.995;  // ten metres as printed
    if (metres < far_m) return length(metres, units);
    if (units == site::Units::feet) return fmt::format("{:.0f} ft", metres / foot_m);
    return length(metres, units, 1);
}

std::string size(double width_m, double height_m, site::Units units, Rounding rounding) {
    if (units == site::Units::feet)
        return feet_and_inches(width_m, rounding) + " x " + feet_and_inches(height_m, rounding);
    return fmt::format("{} x {} m", in_metres(width_m, 2, rounding),
                       in_metres(height_m, 2, rounding));
}

std::string rough_length(double metres, site::Units units) {
    constexpr double near_m = 3, far_m = 99.95;  // from here on whole feet; whole metres
    if (units == site::Units::feet) {
        const double step_m = metres < near_m ? inch_m : foot_m;
        return feet_and_inches(std::round(metres / step_m) * step_m, Rounding::nearest);
    }
    return in_metres(metres, metres < far_m ? 1 : 0, Rounding::nearest) + " m";
}

std::string elevation(double metres, site::Units units) {
    if (units == site::Units::feet) return fmt::format("{:.0f} ft", metres / foot_m);
    return fmt::format("{:.5g} m", metres);
}

std::string small_length(double metres, site::Units units, Rounding rounding) {
    if (units == site::Units::feet) return feet_and_inches(metres, rounding);
    return in_metres(100 * metres, 0, rounding) + " cm";
}

std::string area(double square_metres, site::Units units) {
    if (units == site::Units::feet)
        return two_digit_text(square_metres / (foot_m * foot_m)) + " sq ft";
    return two_digit_text(square_metres) + " m2";
}

std::string speed(double metres_per_minute, site::Units units) {
    const bool feet = units == site::Units::feet;
    return fmt::format("{:.1f} {}/min", metres_per_minute / (feet ? inch_m : 0.01),
                       feet ? "in" : "cm");
}

}  // namespace keyhour::words
