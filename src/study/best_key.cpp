#include "keyhour/study/best_key.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "keyhour/site/dates.hpp"
#include "keyhour/study/mark_light.hpp"

namespace keyhour::study {

namespace {

/// Dates in a row are asked about together, but no more than this: memory stays level.
constexpr std::size_t longest_row = 366;

const char* const no_key = "no clean key";

/// The hours of one date in which an interval is of use.
Span key_hours_of(site::LocalDate date, const site::Zone& zone, const KeyCriteria& criteria) {
    const Instant start = zone.start_of(date), end = zone.start_of(site::next_day(date));
    const auto by_clock = [&](std::chrono::seconds since_midnight) {
        // An hour that the change of clocks skips or repeats: counted from midnight.
        return zone.instant(date::local_days{date} + since_midnight)
            .value_or(start + Seconds{since_midnight});
    };
    // Without a limit an interval may begin before the date (a possible part) or run beyond it.
    constexpr Seconds day{86400};
    return {criteria.earliest_start ? by_clock(*criteria.earliest_start) : start - day,
            criteria.latest_end ? by_clock(*criteria.latest_end) : end + day};
}

std::optional<Span> cut(const Span& span, const Span& hours) {
    const Span inside{std::max(span.from, hours.from), std::min(span.to, hours.to)};
    if (inside.to - inside.from <= boundary_tolerance) return std::nullopt;
    return inside;
}

/// The part of an interval within the hours; nothing if no minute of it is. An end that is cut
/// counts as one at which the interval still runs.
std::optional<KeyInterval> within(KeyInterval interval, const Span& hours) {
    const auto possible = cut(interval.possible, hours);
    if (!possible) return std::nullopt;
    interval.possible = *possible;
    if (!interval.span) return interval;
    const Span whole = *interval.span;
    interval.span = cut(whole, hours);
    interval.sure = interval.sure ? cut(*interval.sure, hours) : std::nullopt;
    if (!interval.span) return std::nullopt;
    interval.span->runs_at_start = interval.span->from != whole.from;
    interval.span->runs_at_end = interval.span->to != whole.to;
    return interval;
}

/// As the clock times of its ends say, but never what was wanted.
long hold_minutes(const Span& span, Seconds wanted) {
    const auto minute = [](Instant t) { return std::lround(t.unix_s() / 60); };
    const long minutes = minute(span.to) - minute(span.from);
    return Seconds{60.0 * static_cast<double>(minutes)} < wanted ? minutes : minutes - 1;
}

/// The sun is weakest where it is lowest, and lowest at one of the ends.
double weakest_lx(const RoomStudy& study, const KeyInterval& interval) {
    const auto level = [&](Instant t) {
        return direct_lx(study, interval.window, study.path().at(t));
    };
    return std::min(level(interval.span->from), level(interval.span->to));
}

/// Empty if it fits.
std::string misfit(const RoomStudy& study, const KeyInterval& interval,
                   const KeyCriteria& criteria) {
    if (!interval.span) return "possible at another bearing only";
    if (interval.hold() < criteria.min_hold)
        return fmt::format("hold {} min, {:g} wanted",
                           hold_minutes(*interval.span, criteria.min_hold),
                           criteria.min_hold.count() / 60);
    if (interval.sure_hold() < criteria.min_sure)
        return fmt::format("{} min at any bearing, {:g} wanted",
                           std::lround(std::floor(interval.sure_hold().count() / 60)),
                           criteria.min_sure.count() / 60);
    if (!criteria.min_level_lx) return {};
    const double level = weakest_lx(study, interval);
    if (level < *criteria.min_level_lx)
        return fmt::format("sun of {:.0f} lx, {:g} wanted", std::floor(level / 100) * 100,
                           *criteria.min_level_lx);
    return {};
}

/// @param found  best first
KeyChoice chosen(const RoomStudy& study, site::LocalDate date, std::vector<KeyInterval> found,
                 const KeyCriteria& criteria) {
    KeyChoice choice;
    choice.why_not = no_key;
    if (!found.empty()) {
        const Span hours = key_hours_of(date, study.location().site.zone, criteria);
        std::vector<KeyInterval> inside;
        for (const KeyInterval& interval : found)
            if (auto part = within(interval, hours)) inside.push_back(*std::move(part));
        if (inside.empty()) {  // by how much it lies outside shows in its clock times
            choice.nearest = std::move(found.front());
            choice.is_outside_hours = true;
            choice.why_not = "no clean key within the hours wanted";
        }
        found = std::move(inside);
    }
    sort_best_first(found);
    for (KeyInterval& interval : found) {
        std::string why = misfit(study, interval, criteria);
        if (why.empty()) {
            choice.fitting.push_back(std::move(interval));
        } else if (!choice.nearest) {
            choice.why_not = std::move(why);
            choice.nearest = std::move(interval);
        }
    }
    if (choice.fits()) {
        choice.nearest.reset();
        choice.why_not.clear();
    }
    return choice;
}

/// @pre both have a nearest interval
bool is_nearer(const KeyChoice& a, const KeyChoice& b) {
    if (a.is_outside_hours != b.is_outside_hours) return b.is_outside_hours;
    return is_better(*a.nearest, *b.nearest);
}

site::LocalDate date_of(const KeyInterval& interval, const site::Zone& zone) {
    return site::local_date(interval.span ? interval.span->from : interval.possible.from, zone);
}

/// The dates that follow one another from the first on, so many at most.
std::span<const site::LocalDate> first_row(std::span<const site::LocalDate> dates,
                                           std::size_t most) {
    std::size_t n = 1;
    while (n < dates.size() && n < most && dates[n] == site::next_day(dates[n - 1]))
        ++n;
    return dates.first(n);
}

}  // namespace

std::vector<DateChoice> key_choices(const RoomStudy& study, std::span<const site::LocalDate> dates,
                                    const KeySettings& settings, const KeyCriteria& criteria) {
    const site::Zone& zone = study.location().site.zone;
    std::vector<DateChoice> out;
    out.reserve(dates.size());
    while (!dates.empty()) {
        const auto row = first_row(dates, longest_row);
        dates = dates.subspan(row.size());
        auto found = clean_key(study, zone.start_of(row.front()),
                               zone.start_of(site::next_day(row.back())), settings);
        const date::local_days first{row.front()};
        std::vector<std::vector<KeyInterval>> by_date(row.size());
        for (KeyInterval& interval : found) {
            const auto day = date::local_days{date_of(interval, zone)} - first;
            by_date[static_cast<std::size_t>(day.count())].push_back(std::move(interval));
        }
        for (std::size_t i = 0; i < row.size(); ++i)
            out.push_back({row[i], chosen(study, row[i], std::move(by_date[i]), criteria)});
    }
    return out;
}

void describe(const RoomStudy& study, const KeySettings& settings, KeyChoice& choice) {
    const auto tell = [&](KeyInterval& interval) {
        describe(study, settings, interval);
        if (interval.span && interval.span->runs_at_start) interval.begins_by = {};
        if (interval.span && interval.span->runs_at_end) interval.ends_by = {};
    };
    for (KeyInterval& interval : choice.fitting)
        tell(interval);
    if (choice.nearest) tell(*choice.nearest);
}

void add_miss(const RoomStudy& study, std::span<const site::LocalDate> dates,
              const KeySettings& settings, KeyChoice& choice) {
    if (choice.fits() || choice.nearest) return;
    const site::Zone& zone = study.location().site.zone;
    while (!dates.empty()) {
        const auto row = first_row(dates, dates.size());
        dates = dates.subspan(row.size());
        for (NearestMiss& miss :
             nearest_misses(study, zone.start_of(row.front()),
                            zone.start_of(site::next_day(row.back())), settings, {}))
            if (!choice.miss || is_nearer(miss, *choice.miss)) choice.miss = std::move(miss);
    }
}

void add_choice(KeyChoice& total, KeyChoice other, bool keep_all) {
    const bool first = total.fitting.empty() && total.why_not.empty();
    if (first) {
        total = std::move(other);
    } else {
        total.fitting.insert(total.fitting.end(), std::make_move_iterator(other.fitting.begin()),
                             std::make_move_iterator(other.fitting.end()));
        if (other.nearest && (!total.nearest || is_nearer(other, total))) {
            total.nearest = std::move(other.nearest);
            total.is_outside_hours = other.is_outside_hours;
            total.why_not = std::move(other.why_not);
        }
    }
    sort_best_first(total.fitting);
    if (!keep_all && total.fits()) total.fitting.resize(1);
    if (total.fits()) {
        total.nearest.reset();
        total.why_not.clear();
    }
}

}  // namespace keyhour::study
