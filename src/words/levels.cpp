#include "words/levels.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "keyhour/light/exposure.hpp"
#include "words/digits.hpp"

namespace keyhour::words {
namespace {

constexpr double kilo = 1000;

}  // namespace

std::string level(double lx) {
    const double rounded = two_digits(lx);
    return rounded >= kilo ? two_digit_text(rounded / kilo) + " klx"
                           : two_digit_text(rounded) + " lx";
}

std::string level_range(double from_lx, double to_lx) {
    const double a = two_digits(from_lx), b = two_digits(to_lx);
    if (a == b) return level(from_lx);
    if (std::max(a, b) >= kilo && std::min(a, b) < kilo / 10)
        return level(from_lx) + " to " + level(to_lx);
    const bool in_klx = std::max(a, b) >= kilo;
    const double unit = in_klx ? kilo : 1;
    return fmt::format("{} to {} {}", two_digit_text(a / unit), two_digit_text(b / unit),
                       in_klx ? "klx" : "lx");
}

std::string ratio(double from, double to) {
    const std::string a = two_digit_text(from), b = two_digit_text(to);
    return a == b ? fmt::format("about {}:1", a) : fmt::format("about {}:1 to {}:1", a, b);
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
