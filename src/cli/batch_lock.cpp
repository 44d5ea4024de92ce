#include "batch_lock.hpp"

#include <functional>
#include <utility>

#include "keyhour/ask/lock_choices.hpp"
#include "shown_names.hpp"
#include "tell/batch_lock.hpp"
#include "tell/batch_rows.hpp"

namespace keyhour::cli {
namespace {

/// Asks about every date.
/// @return why there is no answer
std::string for_each_date(
    const BatchQuestion& q, std::span<const site::LocalDate> dates, const LockedPlace& place,
    const std::function<void(const tell::LockOfPlace&, tell::LockOfDate&)>& tell) {
    const auto take = [&](const study::RoomStudy& study, const study::LampDayQuestion& asked,
                          ask::LockChoice& choice) {
        tell::LockOfDate date{std::move(choice.day), {}};
        if (choice.miss) date.why_not = tell::why_not(*choice.miss);
        if (q.all) date.spans_shown = date.day.spans.size();
        tell({study, asked, place.units}, date);
    };
    const auto fault = ask::for_each_lock(place.location, dates, q.track,
                                          {place.overlap_m, q.criteria.min_sure}, take);
    return fault ? tell::fault_in_words(*fault, *place.location.room) : std::string{};
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
    auto locked = ask::with_lock(location, plan);
    if (!locked) return tl::unexpected{tell::fault_in_words(locked.error(), room)};
    return LockedPlace{*std::move(locked)};
}

std::string answer_lock(const BatchQuestion& q, std::span<const site::LocalDate> dates,
                        const LockedPlace& place, tell::BatchSubject subject,
                        BatchOutcome& outcome) {
    if (!q.per_range)
        return for_each_date(q, dates, place, [&](const auto& of, const tell::LockOfDate& date) {
            subject.first = subject.last = date.day.date;
            outcome.lines.push_back(line_of(q, subject, date, of));
        });
    subject.first = q.dates.front();
    subject.last = q.dates.back();
    std::optional<BatchLine> best;
    std::string fault =
        for_each_date(q, q.dates, place, [&](const auto& of, const tell::LockOfDate& date) {
            BatchLine line = line_of(q, subject, date, of);
            if (!best || is_better(line, *best)) best = std::move(line);
        });
    if (best) outcome.lines.push_back(*std::move(best));
    return fault;
}

std::string brief_locks(const BatchQuestion& q, std::span<const site::LocalDate> dates,
                        const LockedPlace& place, BriefPlace& out) {
    return for_each_date(q, dates, place, [&](const auto& of, const tell::LockOfDate& date) {
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
