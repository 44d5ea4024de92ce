#include "keyhour/study/sun_free.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

#include "keyhour/study/doubt.hpp"
#include "region_spans.hpp"
#include "search_times.hpp"
#include "window_view.hpp"

namespace keyhour::study {
namespace {

/// Sun by all open windows at once, where no cover may be hung; else by one.
struct Counted {
    std::size_t window = 0;
    bool as_is = false;
};

std::vector<Span> merged(std::vector<Span> one, const std::vector<Span>& other) {
    one.insert(one.end(), other.begin(), other.end());
    std::sort(one.begin(), one.end(), [](const Span& a, const Span& b) { return a.from < b.from; });
    std::vector<Span> out;
    for (const Span& s : one)
        if (out.empty() || out.back().to < s.from)
            out.push_back(s);
        else
            out.back().to = std::max(out.back().to, s.to);
    return out;
}

/// The instants that bound one date's spans.
struct DateBounds {
    Instant before, start, end, last;  ///< midnights: of the day before, the date, the next two
    Instant work_begins, work_ends;
    bool has_hours;

    DateBounds(const site::Zone& zone, site::LocalDate date, const LampSettings& settings)
        : before{zone.start_of(date::sys_days{date} - date::days{1})},
          start{zone.start_of(date)},
          end{zone.start_of(date::sys_days{date} + date::days{1})},
          last{zone.start_of(date::sys_days{date} + date::days{2})},
          has_hours{settings.earliest || settings.latest} {
        // By the clock, which on the day of a change is not the time since midnight.
        const auto by_clock = [&](Seconds since_midnight) {
            const auto whole = std::chrono::duration_cast<std::chrono::seconds>(since_midnight);
            return zone.instant(date::local_days{date} + whole)
                .value_or(start + Seconds{since_midnight});
        };
        work_begins = settings.earliest ? by_clock(*settings.earliest) : start;
        work_ends = settings.latest ? by_clock(*settings.latest) : end;
    }
    [[nodiscard]] Instant from() const { return has_hours ? work_begins : start; }
    [[nodiscard]] Instant to() const { return has_hours ? work_ends : last; }
};

/// Spans of one date without sun by what is counted.
class DateOfSpans {
public:
    DateOfSpans(const RoomSun& sun, const Counted& counted, const DateBounds& bounds,
                bool first_of_range, const LampSettings& settings, Edges edges)
        : sun_{sun},
          study_{sun.study()},
          counted_{counted},
          at_{bounds},
          first_of_range_{first_of_range},
          settings_{settings},
          edges_{edges},
          stated_{lit(&OpeningSun::stated)},
          every_{lit(&OpeningSun::every)},
          some_{lit(&OpeningSun::some)} {}

    std::vector<SunFreeSpan> spans() const {
        std::vector<SunFreeSpan> out;
        for (const Span& span : gaps(stated_, at_.from(), at_.to())) {
            const auto mine = part_of_date(span);
            if (!mine || mine->length() < settings_.lock) continue;
            SunFreeSpan told;
            told.window = counted_.window;
            told.whole_day = is_free_between(at_.start, at_.end);
            describe(told, *mine);
            out.push_back(told);
        }
        add_possible_only(out);
        return out;
    }

private:
    [[nodiscard]] std::vector<Span> lit(std::vector<Span> OpeningSun::*which) const {
        std::vector<Span> out;
        for (const OpeningSun& w : sun_.windows()) {
            const bool counts = counted_.as_is ? lets_sun_in(study_.room().windows[w.window])
                                               : w.window == counted_.window;
            if (counts) out = merged(std::move(out), within(w.*which, at_.before, at_.last));
        }
        return out;
    }

    /// What of a span belongs to this date; with working hours all of it does.
    [[nodiscard]] std::optional<Span> part_of_date(Span span) const {
        if (at_.has_hours) return span;
        if (span.from >= at_.end) return std::nullopt;
        if (span.from <= at_.start && span.to >= at_.end) {
            span.to = at_.end;
            return span;
        }
        if (span.from <= at_.start && !first_of_range_ && !is_free_between(at_.before, at_.start))
            return std::nullopt;  // not cut at midnight, but told under an earlier date
        return span;
    }

    [[nodiscard]] bool is_free_between(Instant from, Instant to) const {
        return within(stated_, from, to).empty();
    }

    /// A bound that is no edge of sun: the hours asked for, or midnight.
    [[nodiscard]] room::LimitingEdge bound() const {
        return {at_.has_hours ? room::Edge::none : room::Edge::midnight, 0};
    }
    [[nodiscard]] bool is_bound_at_start(const Span& span) const { return span.from <= at_.from(); }
    [[nodiscard]] bool is_bound_at_end(const SunFreeSpan& told, const Span& span) const {
        return at_.has_hours ? span.to >= at_.work_ends : told.whole_day || span.to >= at_.last;
    }

    void describe(SunFreeSpan& told, const Span& span) const {
        const bool from_bound = is_bound_at_start(span), to_bound = is_bound_at_end(told, span);
        told.span = span;
        told.begins_by = told.ends_by = bound();
        if (edges_ == Edges::named && !from_bound)
            told.begins_by = edge(span.from + beside_change, span.from - beside_change);
        if (edges_ == Edges::named && !to_bound)
            told.ends_by = edge(span.to - beside_change, span.to + beside_change);
        const auto sure = gaps(some_, span.from, span.to);
        const auto longest =
            std::max_element(sure.begin(), sure.end(),
                             [](const Span& a, const Span& b) { return a.length() < b.length(); });
        if (longest != sure.end() && longest->length() > boundary_tolerance) told.sure = *longest;
        const Instant latest = to_bound ? span.to : at_.to();
        told.possible = counted_.as_is ? possible_as_is(span, at_.from(), latest)
                                       : run_with(gaps(every_, at_.from(), latest), span);
    }

    /// Several windows' sun, each at another bearing, may leave none that is free of all of them.
    [[nodiscard]] Span possible_as_is(const Span& span, Instant earliest, Instant latest) const {
        return possible_part(
            study_.path(), study_.bearings(), span, earliest, latest,
            [&](const Moment& m, const room::PlanTurn& turn) { return free_margin(m, turn); });
    }

    /// Positive while no sun that counts comes in.
    [[nodiscard]] double free_margin(const Moment& m, const room::PlanTurn& turn) const {
        double margin = std::numeric_limits<double>::infinity();
        for (const OpeningSun& w : sun_.windows()) {
            const bool counts = counted_.as_is ? lets_sun_in(study_.room().windows[w.window])
                                               : w.window == counted_.window;
            if (!counts) continue;
            const double in = sun_in_margin(study_, w.window, m, turn);
            // Zero is no sun: the smallest step above it is none yet.
            margin = std::min(margin, in > 0 ? -in : std::max(-in, 1e-9));
        }
        return margin;
    }

    /// What ends the span between an instant that is free and one that is not.
    [[nodiscard]] room::LimitingEdge edge(Instant free, Instant not_free) const {
        const auto shines = [&](const OpeningSun& w) {
            return !within(w.stated, not_free, not_free + boundary_tolerance).empty();
        };
        if (counted_.as_is && !shines(*sun_.of(counted_.window)))
            for (const OpeningSun& w : sun_.windows())
                if (lets_sun_in(study_.room().windows[w.window]) && shines(w))
                    return {room::Edge::cover, w.window};
        return sun_in_edge(study_, counted_.window, free, not_free);
    }

    /// Long enough at the one or the other end of the doubt, where nothing is at the stated
    /// bearing.
    void add_possible_only(std::vector<SunFreeSpan>& out) const {
        const auto is_told = [&](const Span& span) {
            return std::any_of(out.begin(), out.end(), [&](const SunFreeSpan& told) {
                return told.possible.from < span.to && span.from < told.possible.to;
            });
        };
        const auto& turns = study_.bearings().all;
        for (const Span& run : gaps(every_, at_.from(), at_.to())) {
            if (run.length() < settings_.lock || is_told(run)) continue;
            for (std::size_t i = 0; i < 2 && i + 1 < turns.size(); ++i)
                for (const Span& span : free_at(turns[i], run)) {
                    const auto mine = part_of_date(span);
                    if (!mine || mine->length() < settings_.lock || is_told(*mine)) continue;
                    SunFreeSpan told;
                    told.window = counted_.window;
                    told.possible = *mine;
                    out.push_back(told);
                }
        }
    }

    [[nodiscard]] std::vector<Span> free_at(const room::PlanTurn& turn, const Span& run) const {
        const auto samples =
            study_.path().samples(run.from, run.to, sun_in_step(study_, counted_.window));
        return find_spans(study_.path(), samples,
                          [&](const Moment& m) { return free_margin(m, turn); });
    }

    const RoomSun& sun_;
    const RoomStudy& study_;
    Counted counted_;
    const DateBounds& at_;
    bool first_of_range_;
    const LampSettings& settings_;
    Edges edges_;
    std::vector<Span> stated_, every_, some_;  ///< sun, from the day before on
};

/// How a lamp's light through the middle of the window would meet the lens axis.
void add_covers(const RoomSun& sun, SunFreeSpan& told) {
    const Span& span = told.told();
    told.covers = covers_of_lock(sun, span.from, span.to, told.window);
    for (const OpeningSun& w : sun.windows())
        if (w.window != told.window && lets_sun_in(sun.study().room().windows[w.window]))
            for (const Span& lit : within(w.some, span.from, span.to))
                told.to_cover.push_back({w.window, lit.from, lit.to});
}

/// To the minute: what is told as equal is equal.
double minutes(Seconds length) {
    return std::floor(length.count() / 60);
}

bool serves_better(const SunFreeSpan& a, const SunFreeSpan& b) {
    const auto worth = [](const SunFreeSpan& s) {
        const double off = s.key_angle_deg ? off_usual_angle(*s.key_angle_deg) : 0;
        return std::tuple{s.window_in_frame,  off > 0, -minutes(s.sure_hold()),
                          -minutes(s.hold()), off,     s.possible.from};
    };
    return worth(a) < worth(b);
}

/// For each mark and camera that the settings ask for and that the window's light can meet.
void add_for_marks(const RoomStudy& study, const LampSettings& settings,
                   const std::vector<SunFreeSpan>& of_window, std::size_t window,
                   std::vector<SunFreeSpan>& out) {
    const room::Room& room = study.room();
    for (std::size_t mark = 0; mark < room.marks.size(); ++mark) {
        if (settings.mark && room.marks[mark].name != *settings.mark) continue;
        if (!study.scene().faces(window, mark)) continue;
        for (const auto camera : study.cameras_of(mark)) {
            if (settings.camera && !(camera && room.cameras[*camera].name == *settings.camera))
                continue;
            std::optional<WindowView> view;
            if (camera) view = window_view(study, window, mark, *camera);
            for (SunFreeSpan told : of_window) {
                told.mark = mark;
                told.camera = camera;
                if (view) told.key_angle_deg = view->key_angle_deg;
                told.window_in_frame = view && view->in_frame;
                out.push_back(std::move(told));
            }
        }
    }
}

}  // namespace

std::vector<SunFreeSpan> sun_free_spans(const RoomSun& sun, site::LocalDate date,
                                        bool first_of_range, const LampSettings& settings,
                                        Edges edges) {
    const RoomStudy& study = sun.study();
    const room::Room& room = study.room();
    const DateBounds bounds{study.location().site.zone, date, settings};
    std::vector<SunFreeSpan> out;
    for (std::size_t window = 0; window < room.windows.size(); ++window) {
        if (settings.window && room.windows[window].name != *settings.window) continue;
        if (!lets_sun_in(room.windows[window])) continue;
        const DateOfSpans spans{sun,  {window, settings.as_is}, bounds, first_of_range, settings,
                                edges};
        std::vector<SunFreeSpan> of_window = spans.spans();
        for (SunFreeSpan& told : of_window)
            add_covers(sun, told);
        add_for_marks(study, settings, of_window, window, out);
    }
    std::stable_sort(out.begin(), out.end(), serves_better);
    return out;
}

std::vector<SunFreeSpan> sun_free_spans(const RoomStudy& study, site::LocalDate date,
                                        bool first_of_range, const LampSettings& settings) {
    const DateBounds bounds{study.location().site.zone, date, settings};
    const RoomSun sun{study, bounds.before, bounds.last, {.marks = false, .every = true}};
    return sun_free_spans(sun, date, first_of_range, settings, Edges::named);
}

}  // namespace keyhour::study
