#include "numbers.hpp"

#include <fmt/format.h>

#include <charconv>
#include <limits>
#include <string_view>

#include "keyhour/site/dates.hpp"

namespace keyhour::cli {
namespace {

/// Not a number if the text is none, which no comparison lets pass.
double number(std::string_view text) {
    constexpr double none = std::numeric_limits<double>::quiet_NaN();
    double value = none;
    const auto [rest, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    return error == std::errc{} && rest == text.data() + text.size() ? value : none;
}

}  // namespace

tl::expected<std::array<double, 2>, std::string> read_pair(const std::string& text, double lowest,
                                                           double highest) {
    const auto comma = text.find(',');
    if (comma != std::string::npos) {
        const double low = number(std::string_view{text}.substr(0, comma));
        const double high = number(std::string_view{text}.substr(comma + 1));
        if (low >= lowest && low < high && high <= highest) return std::array{low, high};
    }
    return tl::unexpected{
        fmt::format("found \"{}\"; accepted: LOW,HIGH degrees, {:g} to {:g}, the lower first", text,
                    lowest, highest)};
}

tl::expected<std::pair<Seconds, Seconds>, std::string> read_hours(const std::string& text) {
    const auto comma = text.find(',');
    if (comma == std::string::npos)
        return tl::unexpected{
            fmt::format("found \"{}\"; accepted: two times, such as 08:00,20:00", text)};
    const auto from = site::read_time_of_day(text.substr(0, comma));
    if (!from) return tl::unexpected{from.error()};
    const auto to = site::read_time_of_day(text.substr(comma + 1));
    if (!to) return tl::unexpected{to.error()};
    if (*from >= *to)
        return tl::unexpected{fmt::format("found \"{}\"; the earlier time must stand first", text)};
    return std::pair{Seconds{*from}, Seconds{*to}};
}

}  // namespace keyhour::cli
