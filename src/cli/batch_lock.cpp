#include "batch_lock.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "keyhour/room/scene.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/seasons.hpp"
#include "keyhour/study/lamp_day.hpp"
#include "keyhour/study/sun_in_room.hpp"
#include "shown_names.hpp"
#include "tell/batch_lock.hpp"
#include "tell/batch_rows.hpp"
#include "text.hpp"
#include "words/names.hpp"

namespace keyhour::cli {
namespace {

/// Dates whose sun is found in one piece lie no farther apart than this.
constexpr date::days longest_gap{14};

/// Nothing is told of where leaks land, which costs more than all the rest.
constexpr study::AskedOfSun times_only{.marks = false, .every = true};

const char* const no_way =
    "no open window leads to a mark in a straight line: no lamp outside can be the key";

/// Empty if the window can be the key's.
std::string unfit(const room::Room& room, const room::Scene& scene, std::size_t window,
                  site::LockPlan& plan) {
    const room::Window& w = room.windows[window];
    if (!study::lets_sun_in(w))
        return fmt::format(
            "key window \"{}\" has cover = \"{}\", and the key's light must come through it",
            w.name, words::name(w.cover));
    for (std::size_t mark = 0; !plan.mark && mark < room.marks.size(); ++mark)
        if (scene.faces(window, mark)) plan.mark = mark;
    if (!plan.mark || !scene.faces(window, *plan.mark))
        return fmt::format("no straight line leads from key window \"{}\" to {}", w.name,
                           plan.mark ? "mark \"" + room.marks[*plan.mark].name + '"' : "a mark");
    return {};
}

/// The dates from the first on that lie close enough together.
std::span<const site::LocalDate> close_together(std::span<const site::LocalDate> dates) {
    std::size_t n = 1;
    while (n < dates.size() &&
           date::sys_days{dates[n]} - date::sys_days{dates[n - 1]} <= longest_gap)
        ++n;
    return dates.first(n);
}

study::LampSettings any_length(const room::Room& room, const study::LampDayQuestion& q) {
    study::LampSettings s;
    s.lock = Seconds{60};
    s.window = room.windows[q.window].name;
    s.mark = room.marks[q.mark].name;
    if (q.camera) s.camera = room.cameras[*q.camera].name;
    if (q.hours) {
        s.earliest = q.hours->from;
        s.latest = q.hours->to;
    }
    return s;
}

std::string minutes(Seconds length) {
    return fmt::format("{:.0f} min", std::floor(length.count() / 60));
}

/// Empty if the lock fits. @param sun  about the date
std::string why_not(const study::RoomSun& sun, const study::LampDay& day,
                    const study::LampDayQuestion& q, Seconds min_sure) {
    if (!day.lock) return "the lock is longer than the hours of this date";
    if (day.spans.empty()) {
        const auto shorter = study::sun_free_spans(
            sun, day.date, true, any_length(sun.study().room(), q), study::Edges::left_out);
        Seconds longest{0};
        for (const study::SunFreeSpan& span : shorter)
            longest = std::max(longest, span.hold());
        return fmt::format("without sun through the key window for {}, {} wanted", minutes(longest),
                           minutes(q.lock));
    }
    const study::SunFreeSpan& best = day.spans.front();
    if (!best.span) return "free of sun at another bearing only";
    if (best.sure_hold() < min_sure)
        return fmt::format("{} at any bearing, {} wanted", minutes(best.sure_hold()),
                           minutes(min_sure));
    if (day.lamp && day.lamp->stand.place() == nullptr) return "no place for the lamp";
    return {};
}

/// Asks about every date. @param tell  (place, date)
/// @return why there is no answer
std::string for_each_lock(
    const BatchQuestion& q, std::span<const site::LocalDate> dates, const LockedPlace& place,
    const std::function<void(const tell::LockOfPlace&, tell::LockOfDate&)>& tell) {
    const study::SeasonalStudy seasons{place.location, q.track, dates.front(), dates.back()};
    for (const auto& stretch : seasons.stretches()) {
        const auto end = std::upper_bound(dates.begin(), dates.end(), stretch->season.last);
        auto of_season = dates.first(static_cast<std::size_t>(end - dates.begin()));
        dates = dates.subspan(of_season.size());
        auto asked = study::lamp_day_question(stretch->study);
        if (!asked) return no_way;
        asked->overlap_m = place.overlap_m;
        asked->landing = study::Landing::left_out;
        asked->daylight = false;
        const tell::LockOfPlace told{stretch->study, *asked, place.units};
        // Where the lamp stands does not depend on the date.
        study::LampDayQuestion every_date = *asked;
        std::optional<study::LampReport> lamp;
        while (!of_season.empty()) {
            const auto row = close_together(of_season);
            of_season = of_season.subspan(row.size());
            study::SeasonalSun sun{seasons, row.front(), row.back(), times_only};
            for (const site::LocalDate date : row) {
                tell::LockOfDate answer;
                answer.day = study::lamp_day(sun.on(date), date, true, every_date);
                if (!lamp) lamp = answer.day.lamp;
                every_date.lamp.reset();
                answer.day.lamp = lamp;
                answer.why_not = why_not(sun.on(date), answer.day, *asked, q.criteria.min_sure);
                if (q.all) answer.spans_shown = answer.day.spans.size();
                tell(told, answer);
            }
        }
    }
    return {};
}

BatchLine line_of(const BatchQuestion& q, const tell::BatchSubject& subject,
                  const tell::LockOfDate& date, const tell::LockOfPlace& place) {
    BatchLine line;
    line.fits = date.why_not.empty();
    if (!date.day.spans.empty()) {
        const study::SunFreeSpan& best = date.day.spans.front();
        line.sure = best.sure_hold();
        line.hold = best.hold();
        line.start = best.told().from;
    }
    if (!line.fits && q.only_fitting) return line;
    switch (q.form) {
        case BatchForm::table:
            line.text = printed(tell::batch_lock_rows(subject, date, place));
            break;
        case BatchForm::csv:
            line.text = tell::lock_csv_records(subject, date, place);
            break;
        case BatchForm::json:
            line.text = tell::lock_json_line(subject, date, place);
            break;
    }
    return line;
}

/// Of the dates of a range the one with the best span.
bool is_better(const BatchLine& a, const BatchLine& b) {
    if (a.fits != b.fits) return a.fits;
    if (a.sure != b.sure) return a.sure > b.sure;
    return a.hold > b.hold;
}

}  // namespace

tl::expected<LockedPlace, std::string> locked_place(site::Location location, const LockWish& wish) {
    const room::Room& room = *location.room;
    site::LockPlan plan = location.lock.value_or(site::LockPlan{});
    const auto window = index_of("--key-window", wish.key_window, room.windows);
    if (!window) return tl::unexpected{window.error().message};
    if (*window) plan.window = *window;
    if (wish.length) plan.length = wish.length;
    if (wish.hours) plan.hours = wish.hours;
    const auto hours = plan.hours.value_or(site::usual_working_hours);
    const Seconds length = plan.length.value_or(site::usual_lock);
    if (length > hours.length())
        return tl::unexpected{fmt::format("a lock of {} is longer than its working hours, {}",
                                          in_minutes(length), in_minutes(hours.length()))};
    if (plan.window)
        if (std::string fault = unfit(room, room::Scene{room}, *plan.window, plan); !fault.empty())
            return tl::unexpected{fault};
    location.lock = plan;
    return LockedPlace{std::move(location)};
}

std::string answer_lock(const BatchQuestion& q, std::span<const site::LocalDate> dates,
                        const LockedPlace& place, tell::BatchSubject subject,
                        BatchOutcome& outcome) {
    if (!q.per_range)
        return for_each_lock(q, dates, place, [&](const auto& of, const tell::LockOfDate& date) {
            subject.first = subject.last = date.day.date;
            outcome.lines.push_back(line_of(q, subject, date, of));
        });
    subject.first = q.dates.front();
    subject.last = q.dates.back();
    std::optional<BatchLine> best;
    std::string fault =
        for_each_lock(q, q.dates, place, [&](const auto& of, const tell::LockOfDate& date) {
            BatchLine line = line_of(q, subject, date, of);
            if (!best || is_better(line, *best)) best = std::move(line);
        });
    if (best) outcome.lines.push_back(*std::move(best));
    return fault;
}

std::string brief_locks(const BatchQuestion& q, std::span<const site::LocalDate> dates,
                        const LockedPlace& place, BriefPlace& out) {
    return for_each_lock(q, dates, place, [&](const auto& of, const tell::LockOfDate& date) {
        BriefDate& brief = out.dates.emplace_back(BriefDate{date.day.date, {}, date.why_not});
        if (!date.why_not.empty()) return;
        const room::Room& room = of.study.room();
        for (const study::SunFreeSpan& span : date.day.spans)
            if (span.span)
                brief.holds.push_back({*span.span, span.sure, room.marks[span.mark].name,
                                       room.windows[span.window].name});
    });
}

}  // namespace keyhour::cli
