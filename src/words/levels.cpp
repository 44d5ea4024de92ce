#include "words/levels.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "keyhour/light/exposure.hpp"
#include "words/digits.hpp"

namespace keyhour::words {
namespace {

constexpr double kilo = 1000;

/// How a number is rounded, and how it is then written.
struct Digits {
    double (*rounded)(double);
    std::string (*text)(double);
};
constexpr Digits two{two_digits, two_digit_text}, one{one_digit, one_digit_text};

std::string level(double lx, const Digits& digits) {
    const double rounded = digits.rounded(lx);
    return rounded >= kilo ? digits.text(rounded / kilo) + " klx" : digits.text(rounded) + " lx";
}

std::string level_range(double from_lx, double to_lx, const Digits& digits) {
    const double a = digits.rounded(from_lx), b = digits.rounded(to_lx);
    if (a == b) return level(from_lx, digits);
    if (std::max(a, b) >= kilo && std::min(a, b) < kilo / 10)
        return level(from_lx, digits) + " to " + level(to_lx, digits);
    const bool in_klx = std::max(a, b) >= kilo;
    const double unit = in_klx ? kilo : 1;
    return fmt::format("{} to {} {}", digits.text(a / unit), digits.text(b / unit),
                       in_klx ? "klx" : "lx");
}

/// Within a stop in all: two digits; else one.
const Digits& known_to(const light::Band& airs) {
    constexpr double a_stop = 2;
    return airs.high <= a_stop * airs.low ? two : one;
}

std::string whole(double stops) {
    return fmt::format("{}", std::lround(stops));
}

std::string about(double from, double to, const char* unit) {
    const std::string a = one_digit_text(from), b = one_digit_text(to);
    return a == b ? fmt::format("about {}{}", a, unit)
                  : fmt::format("about {}{} to {}{}", a, unit, b, unit);
}

}  // namespace

std::string level(double lx) {
    return level(lx, two);
}

std::string level_range(double from_lx, double to_lx) {
    return level_range(from_lx, to_lx, two);
}

std::string level(const light::Band& over_airs) {
    return level(over_airs.likely, known_to(over_airs));
}

std::string level_range(const light::Band& from, const light::Band& to) {
    const bool both = &known_to(from) == &two && &known_to(to) == &two;
    return level_range(from.likely, to.likely, both ? two : one);
}

std::string spread(const light::Band& over_airs) {
    return level_range(over_airs.low, over_airs.high, known_to(over_airs));
}

std::string rough_level(double lx) {
    return level(lx, one);
}

std::string fill_level(double lx) {
    return "about " + rough_level(lx);
}

std::string fill_range(double from_lx, double to_lx) {
    return "about " + level_range(from_lx, to_lx, one);
}

std::string ratio(double from, double to) {
    return about(from, to, ":1");
}

std::string stops_over_fill(double from, double to) {
    const std::string a = whole(from), b = whole(to);
    if (a != b) return fmt::format("about {} to {} stops", a, b);
    return fmt::format("about {} stop{}", a, a == "1" ? "" : "s");
}

std::string thirds(double stops) {
    const long all = std::lround(3 * stops), whole = all / 3, rest = all % 3;
    if (rest == 0) return fmt::format("{}", whole);
    const char* part = rest == 1 ? "1/3" : "2/3";
    return whole == 0 ? part : fmt::format("{} {}", whole, part);
}

std::string thirds_range(double from, double to) {
    const std::string a = thirds(from), b = thirds(to);
    return a == b ? a : a + " to " + b;
}

std::string exposure_values(double from, double to) {
    const auto text = [](double ev) {
        const std::string size = thirds(std::abs(ev));
        return ev < 0 && size != "0" ? "-" + size : size;
    };
    const std::string a = text(from), b = text(to);
    return a == b ? a : a + " to " + b;
}

std::string t_stop(double t_number) {
    return std::string{light::TStopText{light::nearest_t_stop(t_number)}.view()};
}

std::string range(double from, double to, int decimals) {
    const std::string a = fmt::format("{:.{}f}", from, decimals);
    const std::string b = fmt::format("{:.{}f}", to, decimals);
    return a == b ? a : a + " to " + b;
}

std::string signed_stops(double stops) {
    // What rounds to nothing has no sign.
    const double tenths = std::round(10 * stops) / 10;
    return tenths == 0 ? "0.0" : fmt::format("{:+.1f}", tenths);
}

}  // namespace keyhour::words
