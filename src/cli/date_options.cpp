#include "date_options.hpp"

#include <chrono>
#include <optional>

#include "keyhour/site/dates.hpp"
#include "options.hpp"

namespace keyhour::cli {
namespace {

Answer<site::LocalDate> read_option(const char* option, const std::string& text) {
    const auto day = site::read_date(text);
    if (!day) return usage_failure(std::string{option} + ": " + day.error());
    return *day;
}

}  // namespace

void DateOptions::offer(Options& command) {
    command.add_option("--date", date, "local date, YYYY-MM-DD (default: today)")
        ->type_name("DATE");
    command.add_option("--from", from, "first local date of a range")->type_name("DATE");
    command.add_option("--to", to, "last local date of a range, inclusive")->type_name("DATE");
}

Answer<DateRange> DateOptions::read(const site::Zone& zone, Instant now) const {
    if (!date.empty() && (!from.empty() || !to.empty()))
        return usage_failure("--date is one date, --from and --to a range: give one or the other");
    if (from.empty() != to.empty())
        return usage_failure(from.empty() ? "--to needs --from" : "--from needs --to");
    DateRange range;
    if (!date.empty()) {
        const auto day = read_option("--date", date);
        if (!day) return tl::unexpected{day.error()};
        range.first = range.last = *day;
    } else if (!from.empty()) {
        const auto first = read_option("--from", from);
        if (!first) return tl::unexpected{first.error()};
        const auto last = read_option("--to", to);
        if (!last) return tl::unexpected{last.error()};
        if (*last < *first) return usage_failure("--to " + to + " lies before --from " + from);
        range = {*first, *last, true, false};
    } else {
        range.first = range.last = site::local_date(now, zone);
        range.is_today = true;
    }
    return range;
}

std::shared_ptr<const study::SharedTrack> track_of(const DateRange& dates, const site::Zone& zone,
                                                   Seconds margin) {
    return study::SharedTrack::make(zone.start_of(dates.first) - margin,
                                    zone.start_of(site::next_day(dates.last)) + margin);
}

tell::Dates told_dates(const DateRange& dates) {
    return {dates.first, dates.last, dates.is_range, dates.is_today};
}

namespace {

std::optional<Instant>& stopped_clock() {
    thread_local std::optional<Instant> at;
    return at;
}

}  // namespace

void stop_clock(std::optional<Instant> at) {
    stopped_clock() = at;
}

Instant now() {
    if (stopped_clock()) return *stopped_clock();
    return Instant::from_unix(std::chrono::system_clock::now().time_since_epoch());
}

}  // namespace keyhour::cli
