#include "clock_time.hpp"

#include <fmt/format.h>

#include "keyhour/site/dates.hpp"

namespace keyhour::cli {
namespace {

using std::chrono::seconds;

/// "+01:00", "UTC+01:00", "(UTC+01:00)", "Z"; nothing if it is none of them.
std::optional<seconds> read_offset(std::string text) {
    if (text.starts_with('(') && text.ends_with(')')) text = text.substr(1, text.size() - 2);
    if (text == "Z" || text == "UTC") return seconds{0};
    if (text.starts_with("UTC")) text.erase(0, 3);
    if (text.size() != 6 || (text[0] != '+' && text[0] != '-')) return std::nullopt;
    const auto size = site::read_time_of_day(text.substr(1));
    if (!size) return std::nullopt;
    return text[0] == '-' ? -*size : *size;
}

}  // namespace

tl::expected<ClockTime, std::string> read_clock_time(const std::string& text) {
    const std::size_t end = text.find_first_not_of("0123456789:");
    if (end != std::string::npos && end > 0) {
        const std::size_t offset = text.find_first_not_of(' ', end);
        const auto east =
            offset == std::string::npos ? std::nullopt : read_offset(text.substr(offset));
        const auto time = site::read_time_of_day(text.substr(0, end));
        if (east && time) return ClockTime{*time, east};
    }
    const auto time = site::read_time_of_day(text);
    if (!time) return tl::unexpected{time.error()};
    return ClockTime{*time, std::nullopt};
}

tl::expected<Instant, std::string> ClockTime::on(site::LocalDate date,
                                                 const site::Zone& zone) const {
    const site::LocalTime local = date::local_days{date} + time;
    if (utc_offset) {
        const Instant t = Instant::from_unix_s(
            static_cast<double>((local.time_since_epoch() - *utc_offset).count()));
        const seconds own = zone.at(t).utc_offset;
        if (own == *utc_offset) return t;
        return tl::unexpected{
            fmt::format("the clocks there are {} then, not {}; write the time alone",
                        site::utc_offset(own), site::utc_offset(*utc_offset))};
    }
    const auto t = zone.instant(local);
    if (!t) return tl::unexpected{t.error().message};
    return *t;
}

}  // namespace keyhour::cli
