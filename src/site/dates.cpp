#include "keyhour/site/dates.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "keyhour/site/quoted.hpp"

namespace keyhour::site {
namespace {

using std::chrono::seconds;

constexpr std::array kMonths{"January", "February", "March",     "April",   "May",      "June",
                             "July",    "August",   "September", "October", "November", "December"};
constexpr std::array kWeekdays{"Sunday",   "Monday", "Tuesday", "Wednesday",
                               "Thursday", "Friday", "Saturday"};
constexpr const char* kDateWanted = "write the date as YYYY-MM-DD, such as 2026-03-10";
constexpr const char* kTimeWanted = "write the time as HH:MM in 24 hours, such as 15:20";

const char* month_name(unsigned month) {
    return kMonths[month - 1];
}

// A walk along a text that takes digits and marks.
class Scanner {
public:
    explicit Scanner(std::string_view text) : rest_{text} {}

    [[nodiscard]] std::optional<int> digits(std::size_t least, std::size_t most) {
        std::size_t n = 0;
        int value = 0;
        while (n < rest_.size() && n < most && rest_[n] >= '0' && rest_[n] <= '9')
            value = 10 * value + (rest_[n++] - '0');
        if (n < least) return std::nullopt;
        rest_.remove_prefix(n);
        return value;
    }
    [[nodiscard]] bool mark(char c) {
        if (rest_.empty() || rest_.front() != c) return false;
        rest_.remove_prefix(1);
        return true;
    }
    [[nodiscard]] bool at_end() const { return rest_.empty(); }
    [[nodiscard]] std::string_view rest() const { return rest_; }

private:
    std::string_view rest_;
};

// "03/04/2026", "3.4.26", "03-04-2026": three numbers, the year last.
struct DayAndMonth {
    int first = 0, second = 0, year = 0;
};
std::optional<DayAndMonth> year_last(std::string_view text) {
    for (const char mark : {'/', '.', '-'}) {
        Scanner s{text};
        const auto a = s.digits(1, 2);
        if (!a || !s.mark(mark)) continue;
        const auto b = s.digits(1, 2);
        if (!b || !s.mark(mark)) continue;
        const auto y = s.digits(2, 4);
        if (y && s.at_end()) return DayAndMonth{*a, *b, *y < 100 ? *y + 2000 : *y};
    }
    return std::nullopt;
}

std::string year_last_message(const std::string& text, const DayAndMonth& d) {
    const auto day_of = [](int day, int month, int year) {
        return LocalDate{date::year{year}, date::month{static_cast<unsigned>(month)},
                         date::day{static_cast<unsigned>(day)}};
    };
    const LocalDate day_first = day_of(d.first, d.second, d.year);
    const LocalDate month_first = day_of(d.second, d.first, d.year);
    if (day_first.ok() && month_first.ok() && d.first != d.second)
        return fmt::format("{} is two dates: {} {} and {} {}; write {} or {}", site::quoted(text),
                           d.first, month_name(static_cast<unsigned>(d.second)), d.second,
                           month_name(static_cast<unsigned>(d.first)), iso_date(day_first),
                           iso_date(month_first));
    if (day_first.ok() || month_first.ok())
        return fmt::format("{} has the year last; write {}", site::quoted(text),
                           iso_date(day_first.ok() ? day_first : month_first));
    return fmt::format("{} is no date; {}", site::quoted(text), kDateWanted);
}

tl::expected<LocalDate, std::string> checked(const std::string& text, int y, int m, int d) {
    if (y < 1800 || y > 2199)
        return tl::unexpected{fmt::format("{}: the year {} is not served; accepted: {} to {}",
                                          site::quoted(text), y, iso_date(first_date),
                                          iso_date(last_date))};
    if (m < 1 || m > 12)
        return tl::unexpected{
            fmt::format("{}: there is no month {}; {}", site::quoted(text), m, kDateWanted)};
    const LocalDate day{date::year{y}, date::month{static_cast<unsigned>(m)},
                        date::day{static_cast<unsigned>(d)}};
    if (!day.ok()) {
        const auto last =
            date::year_month_day_last{date::year{y}, date::month_day_last{day.month()}};
        return tl::unexpected{fmt::format("{} does not exist: {} {} has {} days",
                                          site::quoted(text), month_name(static_cast<unsigned>(m)),
                                          y, static_cast<unsigned>(last.day()))};
    }
    if (day < first_date || day > last_date)
        return tl::unexpected{fmt::format("{} is not served; accepted: {} to {}",
                                          site::quoted(text), iso_date(first_date),
                                          iso_date(last_date))};
    return day;
}

/// The words of a text, without a comma behind them.
std::vector<std::string_view> words_of(std::string_view text) {
    std::vector<std::string_view> words;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find(' '), text.size());
        std::string_view word = text.substr(0, end);
        if (word.ends_with(',')) word.remove_suffix(1);
        if (!word.empty()) words.push_back(word);
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return words;
}

/// Which of the names is meant, in whole or by its first letters; counted from 1.
template <std::size_t n>
std::optional<unsigned> named(const std::array<const char*, n>& names, std::string_view word,
                              std::size_t least_letters = 3) {
    const auto same = [](char a, char b) {
        return std::tolower(static_cast<unsigned char>(a)) ==
               std::tolower(static_cast<unsigned char>(b));
    };
    for (unsigned i = 0; i < n; ++i) {
        const std::string_view name{names[i]};
        if (word.size() >= least_letters && word.size() <= name.size() &&
            std::equal(word.begin(), word.end(), name.begin(), same))
            return i + 1;
    }
    return std::nullopt;
}

/// The date, if the weekday that stood before it is its own.
tl::expected<LocalDate, std::string> with_weekday(const std::string& text, unsigned weekday,
                                                  LocalDate day) {
    const date::weekday real{date::local_days{day}};
    if (real.c_encoding() + 1 == weekday) return day;
    return tl::unexpected{fmt::format("{} is no {}: {} is a {}", site::quoted(text),
                                      kWeekdays[weekday - 1], iso_date(day),
                                      kWeekdays[real.c_encoding()])};
}

/// "17 February 2026", "Tue 17 February 2026", as the answers print it. Nothing where it is not
/// written so.
std::optional<tl::expected<LocalDate, std::string>> date_of_words(const std::string& text) {
    auto words = words_of(text);
    unsigned weekday = 0;  // counted from 1; 0: none is given
    if (words.size() == 4) weekday = named(kWeekdays, words.front()).value_or(0);
    if (weekday != 0) words.erase(words.begin());
    if (words.size() != 3) return std::nullopt;
    Scanner day{words[0]}, year{words[2]};
    const auto d = day.digits(1, 2), y = year.digits(4, 4);
    const auto m = named(kMonths, words[1]);
    if (!d || !day.at_end() || !m || !y || !year.at_end()) return std::nullopt;
    auto date = checked(text, *y, static_cast<int>(*m), *d);
    if (!date || weekday == 0) return date;
    return with_weekday(text, weekday, *date);
}

tl::expected<LocalDate, std::string> take_date(Scanner& s, const std::string& text) {
    const auto y = s.digits(4, 9);
    const bool first_mark = y && s.mark('-');
    const auto m = first_mark ? s.digits(1, 2) : std::nullopt;
    const bool second_mark = m && s.mark('-');
    const auto d = second_mark ? s.digits(1, 2) : std::nullopt;
    if (!d) {
        if (const auto dm = year_last(text)) return tl::unexpected{year_last_message(text, *dm)};
        return tl::unexpected{fmt::format("{} is no date; {}", site::quoted(text), kDateWanted)};
    }
    return checked(text, *y, *m, *d);
}

std::string clock_text(int h, int m) {
    return fmt::format("{:02}:{:02}", h, m);
}

// Takes HH:MM or HH:MM:SS.
tl::expected<seconds, std::string> take_time(Scanner& s, const std::string& text) {
    const auto refused = [&](const std::string& why) {
        return tl::unexpected{fmt::format("{} {}; {}", site::quoted(text), why, kTimeWanted)};
    };
    const std::size_t before = s.rest().size();
    const auto h = s.digits(1, 2);
    const std::size_t hour_digits = before - s.rest().size();
    if (!h || !s.mark(':')) return refused("is no time");
    const auto m = s.digits(2, 2);
    if (!m) return refused("is no time");
    int sec = 0;
    if (s.mark(':')) {
        const auto found = s.digits(2, 2);
        if (!found) return refused("is no time");
        sec = *found;
    }
    if (*m > 59) return refused(fmt::format("has minutes {}", *m));
    if (sec > 59) return refused(fmt::format("has seconds {}", sec));
    if (*h == 24 && *m == 0 && sec == 0) return refused("is 00:00 of the next date");
    if (*h > 23) return refused(fmt::format("has hours {}", *h));
    if (hour_digits == 1)
        return tl::unexpected{
            *h >= 1 ? fmt::format("{} may be morning or afternoon; write {} or {}",
                                  site::quoted(text), clock_text(*h, *m), clock_text(*h + 12, *m))
                    : fmt::format("{} is short of a digit; write {}", site::quoted(text),
                                  clock_text(*h, *m))};
    return seconds{3600 * *h + 60 * *m + sec};
}

bool says_half_of_day(std::string_view rest) {
    while (!rest.empty() && rest.front() == ' ')
        rest.remove_prefix(1);
    return rest.size() >= 2 &&
           (rest[0] == 'a' || rest[0] == 'A' || rest[0] == 'p' || rest[0] == 'P') &&
           (rest[1] == 'm' || rest[1] == 'M' || rest[1] == '.');
}

struct Broken {  // an instant by calendar and clock
    LocalDate day;
    std::int64_t second_of_day = 0, fraction = 0;
};

Broken broken(std::int64_t ticks, std::int64_t ticks_a_second) {
    std::int64_t whole = ticks / ticks_a_second;
    std::int64_t fraction = ticks % ticks_a_second;
    if (fraction < 0) {
        fraction += ticks_a_second;
        --whole;
    }
    const date::sys_seconds t{seconds{whole}};
    const auto day = date::floor<date::days>(t);
    return {LocalDate{day}, (t - day).count(), fraction};
}

std::string iso(const Broken& b, int decimals) {
    std::string text = fmt::format("{}T{:02}:{:02}:{:02}", iso_date(b.day), b.second_of_day / 3600,
                                   b.second_of_day / 60 % 60, b.second_of_day % 60);
    if (decimals > 0) text += fmt::format(".{:0{}}", b.fraction, decimals);
    return text;
}

std::int64_t ticks_a_second(int decimals) {
    std::int64_t ticks = 1;
    for (int i = 0; i < decimals; ++i)
        ticks *= 10;
    return ticks;
}

std::string offset_text(seconds offset) {
    const auto size = std::abs(offset.count());
    std::string text =
        fmt::format("{}{:02}:{:02}", offset.count() < 0 ? '-' : '+', size / 3600, size / 60 % 60);
    if (size % 60 != 0) text += fmt::format(":{:02}", size % 60);
    return text;
}

std::string duration_in_words(seconds d) {
    const auto minutes = std::abs(d.count()) / 60;
    if (minutes == 60) return "1 hour";
    if (minutes % 60 == 0) return fmt::format("{} hours", minutes / 60);
    return fmt::format("{} minutes", minutes);
}

}  // namespace

tl::expected<LocalDate, std::string> read_date(const std::string& text) {
    if (auto in_words = date_of_words(text)) return *std::move(in_words);
    if (const std::size_t blank = text.find(' '); blank != std::string::npos) {
        // "Tu 2026-02-17", as rows have it
        const unsigned weekday = named(kWeekdays, text.substr(0, blank), 2).value_or(0);
        if (weekday != 0) {
            const auto day = read_date(text.substr(blank + 1));
            return day ? with_weekday(text, weekday, *day) : day;
        }
    }
    Scanner s{text};
    auto day = take_date(s, text);
    if (!day) return day;
    if (!s.at_end() || text.size() != 10)
        return tl::unexpected{s.at_end() ? fmt::format("{} lacks a leading zero; write {}",
                                                       site::quoted(text), iso_date(*day))
                                         : fmt::format("{} has more than a date; {}",
                                                       site::quoted(text), kDateWanted)};
    return day;
}

tl::expected<seconds, std::string> read_time_of_day(const std::string& text) {
    if (text.find_first_of("aApP") != std::string::npos)
        for (std::size_t i = 0; i < text.size(); ++i)
            if (says_half_of_day(std::string_view{text}.substr(i)))
                return tl::unexpected{
                    fmt::format("{} is of the 12-hour clock; {}", site::quoted(text), kTimeWanted)};
    Scanner s{text};
    auto time = take_time(s, text);
    if (time && !s.at_end())
        return tl::unexpected{
            fmt::format("{} has more than a time; {}", site::quoted(text), kTimeWanted)};
    return time;
}

tl::expected<LocalTime, std::string> read_local_time(const std::string& text) {
    const auto split = text.find_first_of("T ");
    if (split == std::string::npos)
        return tl::unexpected{fmt::format("{} is no date and time; write it as 2026-03-10T15:20",
                                          site::quoted(text))};
    const auto day = read_date(text.substr(0, split));
    if (!day) return tl::unexpected{day.error()};
    const auto time = read_time_of_day(text.substr(split + 1));
    if (!time) return tl::unexpected{time.error()};
    return LocalTime{date::local_days{*day}} + *time;
}

tl::expected<Instant, std::string> read_utc(const std::string& text) {
    std::string body = text;
    if (!body.empty() && (body.back() == 'Z' || body.back() == 'z')) body.pop_back();
    double fraction = 0;
    if (const auto dot = body.find('.'); dot != std::string::npos) {
        double weight = 0.1;
        for (const char c : std::string_view{body}.substr(dot + 1)) {
            if (c < '0' || c > '9') {
                return tl::unexpected{
                    fmt::format("{} is no instant of UTC; write it as 2026-03-10T15:20:30.5Z",
                                site::quoted(text))};
            }
            fraction += weight * (c - '0');
            weight /= 10;
        }
        body.resize(dot);
    }
    const auto split = body.find_first_of("T ");
    if (split != std::string::npos && body.find_first_of("+-", split) != std::string::npos)
        return tl::unexpected{
            fmt::format("{} has an offset; write UTC, ending in Z", site::quoted(text))};
    const auto local = read_local_time(body);
    if (!local) return tl::unexpected{local.error()};
    return Instant::from_unix_s(static_cast<double>(local->time_since_epoch().count()) + fraction);
}

std::string iso_utc(Instant t, int decimals) {
    const std::int64_t per_second = ticks_a_second(decimals);
    const std::int64_t ticks = std::llround(t.unix_s() * static_cast<double>(per_second));
    return iso(broken(ticks, per_second), decimals) + 'Z';
}

std::string iso_local(Instant t, const Zone& zone, int decimals) {
    const std::int64_t per_second = ticks_a_second(decimals);
    const std::int64_t ticks = std::llround(t.unix_s() * static_cast<double>(per_second));
    const seconds offset =
        zone.at(Instant::from_unix_s(static_cast<double>(ticks) / static_cast<double>(per_second)))
            .utc_offset;
    return iso(broken(ticks + offset.count() * per_second, per_second), decimals) +
           offset_text(offset);
}

std::string iso_date(LocalDate day) {
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(day.year()),
                       static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()));
}

std::string iso_local_time(LocalTime local) {
    return iso(broken(local.time_since_epoch().count(), 1), 0);
}

std::string whole_minutes(Instant t, const Zone& zone) {
    const ClockReading exact = zone.at(t);
    const ClockReading rounded = zone.at(t + Seconds{30});
    const bool same_date =
        date::floor<date::days>(exact.local) == date::floor<date::days>(rounded.local);
    const auto local = same_date ? rounded.local : exact.local;
    const auto minute = (local - date::floor<date::days>(local)) / std::chrono::minutes{1};
    return clock_text(static_cast<int>(minute / 60), static_cast<int>(minute % 60));
}

std::string utc_offset(seconds offset) {
    return "UTC" + offset_text(offset);
}

std::string date_in_words(LocalDate day) {
    const date::weekday weekday{date::local_days{day}};
    return fmt::format(
        "{} {} {} {}", kWeekdays[weekday.c_encoding()], static_cast<unsigned>(day.day()),
        month_name(static_cast<unsigned>(day.month())), static_cast<int>(day.year()));
}

LocalDate local_date(Instant t, const Zone& zone) {
    return LocalDate{date::floor<date::days>(zone.at(t).local)};
}

LocalDate next_day(LocalDate day) {
    return LocalDate{date::local_days{day} + date::days{1}};
}

std::vector<ClockChange> clock_changes(const Zone& zone, LocalDate first, LocalDate last) {
    std::vector<ClockChange> changes;
    Instant start = zone.start_of(first);
    for (date::local_days day{first}; day <= date::local_days{last}; day += date::days{1}) {
        const Instant end = zone.start_of(LocalDate{day + date::days{1}});
        // A change at midnight belongs to the date that it opens; the second before tells.
        const seconds before = zone.at(start - Seconds{1}).utc_offset;
        const seconds after = zone.at(end - Seconds{1}).utc_offset;
        if (before != after && end > start) changes.push_back({LocalDate{day}, before, after});
        start = end;
    }
    return changes;
}

std::string in_words(const ClockChange& change) {
    return fmt::format("clocks go {} {} on {} ({} to {})",
                       change.after > change.before ? "forward" : "back",
                       duration_in_words(change.after - change.before), date_in_words(change.day),
                       utc_offset(change.before), utc_offset(change.after));
}

}  // namespace keyhour::site
