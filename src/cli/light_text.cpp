#include "light_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace keyhour::cli {
namespace {

constexpr double kilo = 1000;

double two_digits(double value) {
    if (value <= 0) return 0;
    const double unit = std::pow(10, std::floor(std::log10(value)) - 1);
    return std::round(value / unit) * unit;
}

std::string number(double value) {
    return fmt::format("{:.{}f}", value, value < 10 && value > 0 ? 1 : 0);
}

/// "21 to 34 klx"; one unit for both, one number where both read the same.
std::string level_range(double from, double to) {
    const double a = two_digits(from), b = two_digits(to);
    if (a == b) return level_text(from);
    if (std::max(a, b) >= kilo && std::min(a, b) < kilo / 10)
        return level_text(from) + " to " + level_text(to);
    const bool in_klx = std::max(a, b) >= kilo;
    const double unit = in_klx ? kilo : 1;
    return fmt::format("{} to {} {}", number(a / unit), number(b / unit), in_klx ? "klx" : "lx");
}

std::string kelvin_range(const std::optional<double>& from, const std::optional<double>& to) {
    if (!from || !to) return {};
    constexpr double step = 100;  // finer is not seen, nor known
    const double a = std::round(*from / step) * step, b = std::round(*to / step) * step;
    return a == b ? fmt::format(", {:.0f} K", a) : fmt::format(", {:.0f} to {:.0f} K", a, b);
}

std::string range(double from, double to, int decimals) {
    const std::string a = fmt::format("{:.{}f}", from, decimals);
    const std::string b = fmt::format("{:.{}f}", to, decimals);
    return a == b ? a : a + " to " + b;
}

}  // namespace

std::string level_text(double lx) {
    const double rounded = two_digits(lx);
    return rounded >= kilo ? number(rounded / kilo) + " klx" : number(rounded) + " lx";
}

std::string light_text(const study::LightDrift& drift) {
    const study::MarkLight &start = drift.at_start, &end = drift.at_end;
    const light::Band air = drift.air_alone();
    std::string text =
        fmt::format("at the mark {} (air alone: {}){}; fill {}",
                    level_range(start.key_lx.likely, end.key_lx.likely),
                    level_range(air.low, air.high), kelvin_range(start.key_kelvin, end.key_kelvin),
                    level_range(start.fill_lx.likely, end.fill_lx.likely));
    if (start.key_to_fill_stops && end.key_to_fill_stops) {
        const auto ratio = [](const study::MarkLight& m) {
            return two_digits(m.likely().ratio(light::RatioConvention::key_to_fill));
        };
        text +=
            fmt::format(": key to fill {} stops (key:fill {}:1)",
                        range(start.key_to_fill_stops->likely, end.key_to_fill_stops->likely, 1),
                        range(ratio(start), ratio(end), 0));
    }
    return text;
}

}  // namespace keyhour::cli
