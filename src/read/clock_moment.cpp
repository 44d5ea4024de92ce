#include "clock_moment.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <optional>
#include <string_view>

#include "keyhour/site/dates.hpp"

namespace keyhour::read {
namespace {

std::size_t count(std::string_view text, char c) {
    return static_cast<std::size_t>(std::ranges::count(text, c));
}

}  // namespace

tl::expected<TimeText, std::string> read_moment(const std::string& text, const site::Zone& zone) {
    constexpr std::size_t date_length = 10;
    const std::size_t t = text.find_first_of("Tt ");
    if (t == std::string::npos)
        return tl::unexpected{
            text.find(':') != std::string::npos
                ? fmt::format("\"{}\" has no date; write date and time, as in \"2026-02-10T15:20\"",
                              text)
                : fmt::format("\"{}\" has no time; write date and time, as in \"2026-02-10T15:20\"",
                              text)};
    std::string body = text;
    TimeText out;
    if (body.ends_with('Z') || body.ends_with('z')) {
        out.has_seconds = count(body, ':') == 2;
        const auto at = site::read_utc(body);
        if (!at) return tl::unexpected{at.error()};
        out.at = *at;
        return out;
    }
    const std::size_t sign = body.find_first_of("+-", date_length);
    std::optional<std::chrono::seconds> offset;
    if (sign != std::string::npos) {
        const auto hours = site::read_time_of_day(body.substr(sign + 1));
        if (!hours)
            return tl::unexpected{
                fmt::format("\"{}\" has no UTC offset such as +01:00 at its end", text)};
        offset = body[sign] == '-' ? -*hours : *hours;
        body.resize(sign);
    }
    out.has_seconds = count(body, ':') == 2;
    const auto local = site::read_local_time(body);
    if (!local) return tl::unexpected{local.error()};
    if (offset) {
        out.at = Instant::from_unix_s(
            static_cast<double>((local->time_since_epoch() - *offset).count()));
        return out;
    }
    const auto at = zone.instant(*local);
    if (!at)
        return tl::unexpected{at.error().message +
                              "; or write the UTC offset, as in \"2026-10-25T01:30+01:00\""};
    out.at = *at;
    return out;
}

}  // namespace keyhour::read
