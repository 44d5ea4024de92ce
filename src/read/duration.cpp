#include "duration.hpp"

#include <array>

#include "words/decimal.hpp"

namespace keyhour::read {
namespace {

struct DurationUnit {
    std::string_view name;
    double seconds;
};

constexpr double hour_s = 3600, minute_s = 60;

/// The longer names first: the first that fits is taken.
constexpr std::array duration_units{
    DurationUnit{"hours", hour_s},    DurationUnit{"hour", hour_s},
    DurationUnit{"hrs", hour_s},      DurationUnit{"hr", hour_s},
    DurationUnit{"h", hour_s},        DurationUnit{"minutes", minute_s},
    DurationUnit{"minute", minute_s}, DurationUnit{"mins", minute_s},
    DurationUnit{"min", minute_s},    DurationUnit{"m", minute_s},
    DurationUnit{"seconds", 1},       DurationUnit{"second", 1},
    DurationUnit{"sec", 1},           DurationUnit{"s", 1},
};

bool starts_number(char c) {
    return c >= '0' && c <= '9';
}

void skip_spaces(std::string_view& rest) {
    while (rest.starts_with(' '))
        rest.remove_prefix(1);
}

std::optional<double> take_number(std::string_view& rest) {
    if (rest.empty() || !starts_number(rest.front())) return std::nullopt;
    double value = 0;
    const auto [end, error] = words::read_decimal(rest, value, words::Notation::without_exponent);
    if (error != std::errc{}) return std::nullopt;
    rest.remove_prefix(static_cast<std::size_t>(end - rest.data()));
    return value;
}

/// Seconds that the unit stands for.
std::optional<double> take_unit(std::string_view& rest) {
    for (const DurationUnit& unit : duration_units) {
        if (!rest.starts_with(unit.name)) continue;
        const std::string_view after = rest.substr(unit.name.size());
        if (!after.empty() && !starts_number(after.front()) && after.front() != ' ') continue;
        rest = after;
        return unit.seconds;
    }
    return std::nullopt;
}

}  // namespace

std::optional<Seconds> read_duration(std::string_view text) {
    double total_s = 0, last_unit_s = 2 * hour_s;
    skip_spaces(text);
    if (text.empty()) return std::nullopt;
    while (!text.empty()) {
        const auto number = take_number(text);
        if (!number) return std::nullopt;
        skip_spaces(text);
        // "1h30": what follows hours without a unit are minutes, below sixty.
        const bool bare_minutes = text.empty() && last_unit_s == hour_s && *number < 60;
        const auto unit_s = bare_minutes ? std::optional{minute_s} : take_unit(text);
        if (!unit_s || *unit_s >= last_unit_s) return std::nullopt;
        total_s += *number * *unit_s;
        last_unit_s = *unit_s;
        skip_spaces(text);
    }
    return Seconds{total_s};
}

}  // namespace keyhour::read
