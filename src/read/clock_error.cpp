#include "clock_error.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <cstring>
#include <optional>
#include <string_view>

#include "words/decimal.hpp"

namespace keyhour::read {
namespace {

constexpr double most_s = 86400;

struct TimeUnit {
    std::string_view word;
    double seconds;
};
// The longer words first: "min" begins with "m".
constexpr std::array<TimeUnit, 11> time_units{{{"hours", 3600},
                                               {"hour", 3600},
                                               {"h", 3600},
                                               {"minutes", 60},
                                               {"minute", 60},
                                               {"min", 60},
                                               {"m", 60},
                                               {"seconds", 1},
                                               {"second", 1},
                                               {"sec", 1},
                                               {"s", 1}}};

void skip_blanks(std::string_view& text) {
    while (text.starts_with(' '))
        text.remove_prefix(1);
}

bool take(std::string_view& text, std::string_view word) {
    if (!text.starts_with(word)) return false;
    text.remove_prefix(word.size());
    skip_blanks(text);
    return true;
}

/// "1 h 30 min", up to what is no number.
std::optional<double> take_length(std::string_view& text) {
    std::optional<double> seconds;
    while (!text.empty() && text.front() >= '0' && text.front() <= '9') {
        double number = 0;
        const auto [end, fault] =
            words::read_decimal(text, number, words::Notation::without_exponent);
        if (fault != std::errc{}) return std::nullopt;
        text.remove_prefix(static_cast<std::size_t>(end - text.data()));
        skip_blanks(text);
        bool has_unit = false;
        for (const TimeUnit& unit : time_units)
            if (take(text, unit.word)) {
                seconds = seconds.value_or(0) + number * unit.seconds;
                has_unit = true;
                break;
            }
        if (!has_unit) return std::nullopt;
    }
    return seconds;
}

}  // namespace

tl::expected<double, std::string> read_clock_error(const std::string& text) {
    std::string_view rest = text;
    skip_blanks(rest);
    if (take(rest, "right") && rest.empty()) return 0;
    rest = text;
    skip_blanks(rest);
    const auto seconds = take_length(rest);
    const bool is_fast = take(rest, "fast");
    if (seconds && (is_fast || take(rest, "slow")) && rest.empty()) {
        if (*seconds <= most_s) return is_fast ? *seconds : -*seconds;
        return tl::unexpected{fmt::format("\"{}\" is more than a day; accepted: up to 24 h", text)};
    }
    return tl::unexpected{
        fmt::format("\"{}\" says no error of a clock; accepted: \"right\", or how much it was fast "
                    "(showed more "
                    "than the time) or slow, as in \"1 h fast\", \"30 min slow\"",
                    text)};
}

}  // namespace keyhour::read
