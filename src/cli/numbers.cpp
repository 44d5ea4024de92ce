#include "numbers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <limits>
#include <optional>

#include "keyhour/site/dates.hpp"
#include "read/duration.hpp"
#include "words/decimal.hpp"

namespace keyhour::cli {
namespace {

/// All of the text, in decimal; infinite where no double is near it.
std::optional<double> decimal(std::string_view text) {
    // from_chars takes "nan" and "inf", which begin with a letter, and no plus sign.
    const std::size_t first = text.find_first_not_of("+-");
    if (first == std::string_view::npos || first > 1 ||
        std::string_view{"0123456789."}.find(text[first]) == std::string_view::npos)
        return std::nullopt;
    if (text.front() == '+') text.remove_prefix(1);
    double value = 0;
    const auto [rest, error] = words::read_decimal(text, value);
    if (rest != text.data() + text.size() || error == std::errc::invalid_argument)
        return std::nullopt;
    return error == std::errc{} ? value : std::numeric_limits<double>::infinity();
}

/// What to write in place of a text that is no number; empty if nobody can know.
std::string rewritten(const std::string& text) {
    const auto commas = std::count(text.begin(), text.end(), ',');
    if (commas == 1) {
        const std::size_t comma = text.find(',');
        std::string point = text, joined = text;
        point[comma] = '.';
        joined.erase(comma, 1);
        if (!decimal(point)) return {};
        // One thousand and a half look alike: "1,500".
        const bool may_be_thousands =
            text.size() - comma == 4 && text.find_first_of("123456789") < comma;
        if (may_be_thousands)
            return fmt::format("write a decimal point: {}, or no separator: {}", point, joined);
        return "write a decimal point: " + point;
    }
    if (const std::size_t slash = text.find('/'); slash != std::string::npos) {
        const auto over = decimal(text.substr(0, slash)), under = decimal(text.substr(slash + 1));
        if (over && under && std::isfinite(*over / *under))
            return fmt::format("write a decimal number: {:.3g}", *over / *under);
        return {};
    }
    constexpr std::string_view minus = "\u2212", dash = "\u2013";
    for (const std::string_view sign : {minus, dash})
        if (text.starts_with(sign) && decimal(text.substr(sign.size())))
            return "write a plain minus: -" + text.substr(sign.size());
    return {};
}

std::string no_number(const std::string& text, std::string_view unit) {
    if (const std::string better = rewritten(text); !better.empty())
        return fmt::format("\"{}\" is not a number; {}", text, better);
    if (unit.empty()) return fmt::format("\"{}\" is not a number; accepted: a number", text);
    return fmt::format("\"{}\" is not a number; accepted: a number, in {}", text, unit);
}

std::string no_whole_number(const std::string& text, std::string_view unit) {
    const auto value = decimal(text);
    if (!value && rewritten(text).empty()) return no_number(text, unit);
    constexpr double exactly_up_to = 9007199254740992;  // 2^53
    if (value && *value == std::floor(*value) && std::abs(*value) <= exactly_up_to)
        return fmt::format("\"{}\": write {:.0f}", text, *value);
    return fmt::format("\"{}\" is not a whole number; accepted: {}", text,
                       unit.empty() ? "a whole number" : fmt::format("whole {}", unit));
}

/// "25,70", or as the answers print it: "25 to 70".
std::optional<std::pair<std::string_view, std::string_view>> two_parts(std::string_view text) {
    for (const std::string_view between : {std::string_view{","}, std::string_view{" to "}})
        if (const auto at = text.find(between); at != std::string_view::npos)
            return std::pair{text.substr(0, at), text.substr(at + between.size())};
    return std::nullopt;
}

std::string_view without_degrees(std::string_view text) {
    constexpr std::string_view unit = " degrees";
    return text.ends_with(unit) ? text.substr(0, text.size() - unit.size()) : text;
}

/// "12:58 to 14:19 (1 h 21 min)", as the answers print a span: without its length.
std::pair<std::string, std::optional<Seconds>> span_and_length(const std::string& text) {
    const std::size_t open = text.find(" (");
    if (open == std::string::npos || !text.ends_with(')')) return {text, std::nullopt};
    const auto length = read::read_duration(text.substr(open + 2, text.size() - open - 3));
    if (!length) return {text, std::nullopt};
    return {text.substr(0, open), *length};
}

double number_or_nan(std::string_view text) {
    return decimal(text).value_or(std::numeric_limits<double>::quiet_NaN());
}

}  // namespace

tl::expected<double, std::string> read_number(const std::string& text, std::string_view unit) {
    const auto value = decimal(text);
    if (!value) return tl::unexpected{no_number(text, unit)};
    if (!std::isfinite(*value)) return tl::unexpected{fmt::format("\"{}\" is out of range", text)};
    return *value;
}

tl::expected<std::uint64_t, std::string> read_whole_number(const std::string& text,
                                                           std::string_view unit,
                                                           WholeBounds bounds) {
    std::string_view digits = text;
    const bool is_negative = digits.starts_with('-');
    if (is_negative || digits.starts_with('+')) digits.remove_prefix(1);
    if (digits.empty() || digits.find_first_not_of("0123456789") != std::string_view::npos)
        return tl::unexpected{no_whole_number(text, unit)};
    std::uint64_t size = 0;
    const auto [rest, error] = std::from_chars(digits.data(), digits.data() + digits.size(), size);
    const std::uint64_t lowest =
        bounds.least < 0 ? std::uint64_t{0} - static_cast<std::uint64_t>(bounds.least) : 0;
    const bool is_within =
        is_negative ? size <= lowest && (bounds.least < 0 || size == 0)
                    : size <= bounds.most &&
                          (bounds.least < 0 || size >= static_cast<std::uint64_t>(bounds.least));
    if (error != std::errc{} || !is_within)
        return tl::unexpected{fmt::format("\"{}\" is out of range; accepted: {} to {}", text,
                                          bounds.least, bounds.most)};
    return is_negative ? std::uint64_t{0} - size : size;
}

tl::expected<std::array<double, 2>, std::string> read_pair(const std::string& text, double lowest,
                                                           double highest) {
    const auto parts = two_parts(text);
    if (parts) {
        double low = number_or_nan(parts->first),
               high = number_or_nan(without_degrees(parts->second));
        // As the answers print it, from begin to end, it may fall: "58 to 38".
        const bool falls = low > high && text.find(',') == std::string::npos;
        if (falls) std::swap(low, high);
        if (low >= lowest && low < high && high <= highest) return std::array{low, high};
    }
    return tl::unexpected{
        fmt::format("found \"{}\"; accepted: LOW,HIGH degrees, {:g} to {:g}, the lower first", text,
                    lowest, highest)};
}

tl::expected<std::pair<Seconds, Seconds>, std::string> read_hours(const std::string& typed) {
    const auto [text, length] = span_and_length(typed);
    auto parts = two_parts(text);
    if (const auto dash = text.find('-'); !parts && dash != std::string::npos)
        parts = {std::string_view{text}.substr(0, dash), std::string_view{text}.substr(dash + 1)};
    if (!parts)
        return tl::unexpected{
            fmt::format("found \"{}\"; accepted: two times, such as 08:00,20:00", text)};
    const auto from = site::read_time_of_day(std::string{parts->first});
    if (!from) return tl::unexpected{from.error()};
    const auto to = site::read_time_of_day(std::string{parts->second});
    if (!to) return tl::unexpected{to.error()};
    if (*from >= *to)
        return tl::unexpected{fmt::format("found \"{}\"; the earlier time must stand first", text)};
    constexpr Seconds rounding{60};
    const Seconds size = *to - *from;
    if (length && (size > *length + rounding || *length > size + rounding))
        return tl::unexpected{fmt::format("found \"{}\": that is {:.0f} minutes", typed,
                                          size.count() / rounding.count())};
    return std::pair{Seconds{*from}, Seconds{*to}};
}

}  // namespace keyhour::cli
