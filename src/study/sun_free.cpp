#include "keyhour/study/sun_free.hpp"

#include <algorithm>

#include "keyhour/study/doubt.hpp"
#include "search_times.hpp"

namespace keyhour::study {
namespace {

constexpr Seconds coarse_step{300};  // where patches are laid out at every sample

/// A mark and a camera that must be free of other windows' sun, as no cover may be hung.
struct AsItIs {
    std::size_t mark = 0;
    std::optional<std::size_t> camera;
    double near_m = 0;
};

/// Positive while no direct sun comes in.
struct SunFree {
    const RoomStudy& study;
    std::size_t window;
    std::optional<AsItIs> as_it_is;

    double operator()(const Moment& m, const room::PlanTurn& turn) const {
        const double margin = of_window(m, turn);
        return margin > 0 && troubling(m, turn) ? -1 : margin;
    }

    /// What ends the span between an instant that is free and one that is not.
    [[nodiscard]] room::LimitingEdge edge(Instant free, Instant not_free) const {
        const Moment m = study.path().at(not_free);
        if (of_window(m, study.bearings().stated) > 0)
            if (const auto w = troubling(m, study.bearings().stated))
                return {room::Edge::cover, *w};
        return sun_in_edge(study, window, free, not_free);
    }

private:
    [[nodiscard]] std::optional<std::size_t> troubling(const Moment& m,
                                                       const room::PlanTurn& turn) const {
        if (!as_it_is) return std::nullopt;
        for (std::size_t w = 0; w < study.room().windows.size(); ++w)
            if (w != window && lets_sun_in(study.room().windows[w]) &&
                troubles(study, w, as_it_is->mark, as_it_is->camera, as_it_is->near_m, m, turn))
                return w;
        return std::nullopt;
    }
    [[nodiscard]] double of_window(const Moment& m, const room::PlanTurn& turn) const {
        const double in = sun_in_margin(study, window, m, turn);
        // Zero is no sun: the smallest step above it is none yet.
        return in > 0 ? -in : std::max(-in, 1e-9);
    }
};

std::optional<Span> cut(const Span& span, Instant from, Instant to) {
    Span out = span;
    out.from = std::max(span.from, from);
    out.to = std::min(span.to, to);
    if (out.to <= out.from) return std::nullopt;
    return out;
}

class DateOfSpans {
public:
    DateOfSpans(const RoomStudy& study, site::LocalDate date, bool first_of_range,
                const LampSettings& settings)
        : study_{study}, settings_{settings}, first_of_range_{first_of_range} {
        const site::Zone& zone = study.location().site.zone;
        before_ = zone.start_of(date::sys_days{date} - date::days{1});
        start_ = zone.start_of(date);
        end_ = zone.start_of(date::sys_days{date} + date::days{1});
        last_ = zone.start_of(date::sys_days{date} + date::days{2});
        // By the clock, which on the day of a change is not the time since midnight.
        const auto by_clock = [&](Seconds since_midnight) {
            const auto whole = std::chrono::duration_cast<std::chrono::seconds>(since_midnight);
            return zone.instant(date::local_days{date} + whole)
                .value_or(start_ + Seconds{since_midnight});
        };
        work_begins_ = settings.earliest ? by_clock(*settings.earliest) : start_;
        work_ends_ = settings.latest ? by_clock(*settings.latest) : end_;
        Seconds step = coarse_step;
        if (!settings.as_is)
            for (std::size_t w = 0; w < study.room().windows.size(); ++w)
                step = std::min(step, sun_in_step(study, w));
        samples_ = has_hours() ? study.path().samples(work_begins_, work_ends_, step)
                               : study.path().samples(start_, last_, step);
    }

    void add_window(std::size_t window, const std::optional<AsItIs>& as_it_is,
                    std::vector<SunFreeSpan>& out) const {
        const SunFree free{study_, window, as_it_is};
        const auto spans = find_spans(study_.path(), samples_, [&](const Moment& m) {
            return free(m, study_.bearings().stated);
        });
        for (const Span& span : spans) {
            const auto mine = part_of_date(span, free, study_.bearings().stated);
            if (!mine || mine->length() < settings_.lock) continue;
            SunFreeSpan told;
            told.window = window;
            told.whole_day = has_hours()
                                 ? is_bound_at_start(*mine) && is_bound_at_end(told, *mine) &&
                                       is_free_between(start_, end_, free, study_.bearings().stated)
                                 : span.from <= start_ && span.to >= end_;
            describe(told, *mine, free);
            out.push_back(told);
        }
        add_possible_only(window, free, out);
    }

private:
    [[nodiscard]] bool has_hours() const { return settings_.earliest || settings_.latest; }

    /// What of a span belongs to this date; with working hours, what lies within them.
    [[nodiscard]] std::optional<Span> part_of_date(Span span, const SunFree& free,
                                                   const room::PlanTurn& turn) const {
        if (has_hours()) return cut(span, work_begins_, work_ends_);
        if (span.from >= end_) return std::nullopt;
        if (span.from <= start_ && span.to >= end_) {
            span.to = end_;
            return span;
        }
        if (span.runs_at_start && !first_of_range_ && !is_free_between(before_, start_, free, turn))
            return std::nullopt;  // not cut at midnight, but told under an earlier date
        return span;
    }

    [[nodiscard]] bool is_free_between(Instant from, Instant to, const SunFree& free,
                                       const room::PlanTurn& turn) const {
        const auto samples = study_.path().samples(from, to, sun_in_step(study_, free.window));
        return std::all_of(samples.begin(), samples.end(),
                           [&](const Moment& m) { return free(m, turn) > 0; });
    }

    /// A bound that is no edge of sun: the hours asked for, or midnight.
    [[nodiscard]] room::LimitingEdge bound() const {
        return {has_hours() ? room::Edge::none : room::Edge::midnight, 0};
    }
    [[nodiscard]] bool is_bound_at_start(const Span& span) const {
        return has_hours() ? span.from <= work_begins_ : span.from <= start_;
    }
    [[nodiscard]] bool is_bound_at_end(const SunFreeSpan& told, const Span& span) const {
        return has_hours() ? span.to >= work_ends_ : told.whole_day || span.to >= last_;
    }

    /// Long enough at the one or the other end of the doubt, where nothing is at the stated
    /// bearing.
    void add_possible_only(std::size_t window, const SunFree& free,
                           std::vector<SunFreeSpan>& out) const {
        const auto& turns = study_.bearings().all;
        for (std::size_t i = 0; i < 2 && i + 1 < turns.size(); ++i)
            for (const Span& span : find_spans(
                     study_.path(), samples_, [&](const Moment& m) { return free(m, turns[i]); })) {
                const auto mine = part_of_date(span, free, turns[i]);
                if (!mine || mine->length() < settings_.lock) continue;
                if (std::any_of(out.begin(), out.end(), [&](const SunFreeSpan& told) {
                        return told.possible.from < mine->to && mine->from < told.possible.to;
                    }))
                    continue;
                SunFreeSpan told;
                told.window = window;
                told.possible = *mine;
                out.push_back(told);
            }
    }

    void describe(SunFreeSpan& told, const Span& span, const SunFree& free) const {
        told.begins_by = is_bound_at_start(span)
                             ? bound()
                             : free.edge(span.from + beside_change, span.from - beside_change);
        told.ends_by = is_bound_at_end(told, span)
                           ? bound()
                           : free.edge(span.to - beside_change, span.to + beside_change);
        told.span = span;
        told.sure = sure_part(study_.path(), study_.bearings(), span, free,
                              settings_.as_is ? coarse_step : sun_in_step(study_, free.window));
        const Instant earliest = is_bound_at_start(span) ? span.from
                                 : has_hours()           ? work_begins_
                                                         : start_;
        const Instant latest = is_bound_at_end(told, span) ? span.to
                               : has_hours()               ? work_ends_
                                                           : last_;
        told.possible =
            possible_part(study_.path(), study_.bearings(), span, earliest, latest, free);
    }

    const RoomStudy& study_;
    const LampSettings& settings_;
    bool first_of_range_;
    Instant before_, start_, end_, last_;
    Instant work_begins_, work_ends_;
    std::vector<Moment> samples_;
};

/// How a lamp's light through the middle of the window would meet the lens axis.
void see_from_camera(const RoomStudy& study, SunFreeSpan& told) {
    const room::Room& room = study.room();
    const room::Camera& camera = room.cameras[*told.camera];
    const room::Mark& mark = room.marks[told.mark];
    const room::Point3 centre{mark.at.x, mark.at.y, mark.height_m};
    told.key_angle_deg =
        room::key_angle(room, camera, study.scene().middle(told.window) - centre).in_degrees();
    room::Patch opening;
    opening.outlines = {study.scene().corners(told.window)};
    told.window_in_frame = room::in_frame(room, camera, opening);
}

bool serves_better(const SunFreeSpan& a, const SunFreeSpan& b) {
    if (a.sure_hold() != b.sure_hold()) return a.sure_hold() > b.sure_hold();
    if (a.hold() != b.hold()) return a.hold() > b.hold();
    return a.possible.from < b.possible.from;
}

}  // namespace

std::vector<SunFreeSpan> sun_free_spans(const RoomStudy& study, site::LocalDate date,
                                        bool first_of_range, const LampSettings& settings) {
    const DateOfSpans spans{study, date, first_of_range, settings};
    const room::Room& room = study.room();
    std::vector<SunFreeSpan> out;
    for (std::size_t window = 0; window < room.windows.size(); ++window) {
        if (settings.window && room.windows[window].name != *settings.window) continue;
        if (!lets_sun_in(room.windows[window])) continue;
        std::vector<SunFreeSpan> of_window;
        if (!settings.as_is) spans.add_window(window, std::nullopt, of_window);
        for (std::size_t mark = 0; mark < room.marks.size(); ++mark) {
            if (settings.mark && room.marks[mark].name != *settings.mark) continue;
            if (!study.scene().faces(window, mark)) continue;
            for (const auto camera : study.cameras_of(mark)) {
                if (settings.camera && !(camera && room.cameras[*camera].name == *settings.camera))
                    continue;
                if (settings.as_is) {
                    of_window.clear();
                    spans.add_window(window, AsItIs{mark, camera, settings.near_m}, of_window);
                }
                for (SunFreeSpan told : of_window) {
                    told.mark = mark;
                    told.camera = camera;
                    if (camera) see_from_camera(study, told);
                    const Span& span = told.span ? *told.span : told.possible;
                    told.to_cover = cover_spans(study, window, mark, camera, settings.near_m,
                                                span.from, span.to);
                    out.push_back(std::move(told));
                }
            }
        }
    }
    std::stable_sort(out.begin(), out.end(), serves_better);
    return out;
}

}  // namespace keyhour::study
