#include "keyhour/ask/lock_choices.hpp"

#include <algorithm>

#include "keyhour/room/scene.hpp"
#include "keyhour/site/seasons.hpp"
#include "keyhour/study/seasonal_study.hpp"
#include "keyhour/study/sun_in_room.hpp"

namespace keyhour::ask {
namespace {

/// Dates whose sun is found in one piece lie no farther apart than this.
constexpr date::days longest_gap{14};

/// Nothing is told of where leaks land, which costs more than all the rest.
constexpr study::AskedOfSun times_only{.marks = false, .every = true};

/// Whether the plan's window can be the key's; its mark is found where none is named.
std::optional<LockFault> unfit(const room::Room& room, site::LockPlan& plan) {
    using Kind = LockFault::Kind;
    const std::size_t window = *plan.window;
    if (!study::lets_sun_in(room.windows[window]))
        return LockFault{.kind = Kind::covered, .window = window, .mark = {}};
    const room::Scene scene{room};
    for (std::size_t mark = 0; !plan.mark && mark < room.marks.size(); ++mark)
        if (scene.faces(window, mark)) plan.mark = mark;
    if (plan.mark && scene.faces(window, *plan.mark)) return std::nullopt;
    return LockFault{.kind = Kind::no_line, .window = window, .mark = plan.mark};
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
    study::LampSettings s = study::lamp_settings(room, q);
    s.lock = Seconds{60};
    return s;
}

/// @param sun  about the date
std::optional<LockMiss> miss_of(const study::RoomSun& sun, const study::LampDay& day,
                                const study::LampDayQuestion& q, Seconds min_sure) {
    using Kind = LockMiss::Kind;
    if (!day.lock) return LockMiss{Kind::longer_than_hours};
    if (day.spans.empty()) {
        const auto shorter = study::sun_free_spans(
            sun, day.date, true, any_length(sun.study().room(), q), study::Edges::left_out);
        Seconds longest{0};
        for (const study::SunFreeSpan& span : shorter)
            longest = std::max(longest, span.hold());
        return LockMiss{Kind::sun_comes, longest, q.lock};
    }
    const study::SunFreeSpan& best = day.spans.front();
    if (!best.span) return LockMiss{Kind::at_another_bearing};
    if (best.sure_hold() < min_sure) return LockMiss{Kind::unsure, best.sure_hold(), min_sure};
    if (day.lamp && day.lamp->stand.place() == nullptr) return LockMiss{Kind::no_lamp_place};
    return std::nullopt;
}

}  // namespace

tl::expected<site::Location, LockFault> with_lock(site::Location location,
                                                  const site::LockPlan& plan) {
    const auto hours = plan.hours.value_or(site::usual_working_hours);
    const Seconds length = plan.length.value_or(site::usual_lock);
    if (length > hours.length())
        return tl::unexpected{LockFault{.kind = LockFault::Kind::longer_than_hours,
                                        .lock = length,
                                        .hours = hours.length(),
                                        .mark = {}}};
    site::LockPlan whole = plan;
    if (whole.window)
        if (const auto fault = unfit(*location.room, whole)) return tl::unexpected{*fault};
    location.lock = whole;
    return location;
}

std::optional<LockFault> for_each_lock(const site::Location& location,
                                       std::span<const site::LocalDate> dates,
                                       const std::shared_ptr<const study::SharedTrack>& shared,
                                       const LockChoiceRequest& request, const TakeLock& take) {
    const study::SeasonalStudy seasons{location, shared, dates.front(), dates.back()};
    for (const auto& stretch : seasons.stretches()) {
        const auto end = std::upper_bound(dates.begin(), dates.end(), stretch->season.last);
        auto of_season = dates.first(static_cast<std::size_t>(end - dates.begin()));
        dates = dates.subspan(of_season.size());
        auto asked = study::lamp_day_question(stretch->study);
        if (!asked) return LockFault{};
        asked->overlap_m = request.overlap_m;
        asked->landing = study::Landing::left_out;
        asked->daylight = false;
        // Where the lamp stands does not depend on the date.
        study::LampDayQuestion every_date = *asked;
        std::optional<study::LampReport> lamp;
        while (!of_season.empty()) {
            const auto row = close_together(of_season);
            of_season = of_season.subspan(row.size());
            study::SeasonalSun sun{seasons, row.front(), row.back(), times_only};
            for (const site::LocalDate date : row) {
                LockChoice choice{study::lamp_day(sun.on(date), date, true, every_date), {}};
                if (!lamp) lamp = choice.day.lamp;
                every_date.lamp.reset();
                choice.day.lamp = lamp;
                choice.miss = miss_of(sun.on(date), choice.day, *asked, request.min_sure);
                take(stretch->study, *asked, choice);
            }
        }
    }
    return std::nullopt;
}

}  // namespace keyhour::ask
