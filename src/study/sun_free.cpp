#include "keyhour/study/sun_free.hpp"

#include <algorithm>

#include "keyhour/study/doubt.hpp"

namespace keyhour::study {
namespace {

constexpr Seconds sample_step{120};
constexpr Seconds aside{1};

/// Positive while no direct sun comes in.
struct SunFree {
    const RoomStudy& study;
    std::size_t window;
    double operator()(const Moment& m, const room::PlanTurn& turn) const {
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
        start_ = zone.start_of(date);
        end_ = zone.start_of(date::sys_days{date} + date::days{1});
        last_ = zone.start_of(date::sys_days{date} + date::days{2});
        samples_ = study.path().samples(start_, last_, sample_step);
    }

    void add_window(std::size_t window, std::vector<SunFreeSpan>& out) const {
        const SunFree free{study_, window};
        const auto spans = find_spans(study_.path(), samples_, [&](const Moment& m) {
            return free(m, study_.bearings().stated);
        });
        for (Span span : spans) {
            if (span.from >= end_) continue;
            const bool fills_date = span.from <= start_ && span.to >= end_;
            if (span.runs_at_start && !first_of_range_ && !fills_date) continue;
            if (fills_date) span.to = end_;
            SunFreeSpan told;
            told.window = window;
            told.whole_day = fills_date;
            describe(told, span, free);
            if (!told.span || told.hold() < settings_.lock) continue;
            out.push_back(told);
        }
    }

    [[nodiscard]] Instant start() const { return start_; }

private:
    void describe(SunFreeSpan& told, Span span, const SunFree& free) const {
        const room::LimitingEdge midnight{room::Edge::midnight, 0};
        told.begins_by = span.from <= start_ ? midnight
                                             : sun_in_edge(study_, told.window, span.from + aside,
                                                           span.from - aside);
        told.ends_by = told.whole_day || span.to >= last_
                           ? midnight
                           : sun_in_edge(study_, told.window, span.to - aside, span.to + aside);
        if (settings_.earliest || settings_.latest) {
            const Instant from = start_ + settings_.earliest.value_or(Seconds{0});
            const Instant to = settings_.latest ? start_ + *settings_.latest : last_;
            const auto within = cut(span, from, to);
            if (!within) return;
            if (within->from > span.from) told.begins_by = {room::Edge::none, 0};
            if (within->to < span.to) told.ends_by = {room::Edge::none, 0};
            span = *within;
            told.whole_day = false;
        }
        told.span = span;
        told.sure = sure_part(study_.path(), study_.bearings(), span, free);
        const Instant earliest =
            told.begins_by.kind == room::Edge::none || told.begins_by.kind == room::Edge::midnight
                ? span.from
                : start_;
        const Instant latest =
            told.ends_by.kind == room::Edge::none || told.ends_by.kind == room::Edge::midnight
                ? span.to
                : last_;
        told.possible =
            possible_part(study_.path(), study_.bearings(), span, earliest, latest, free);
    }

    const RoomStudy& study_;
    const LampSettings& settings_;
    bool first_of_range_;
    Instant start_, end_, last_;
    std::vector<Moment> samples_;
};

bool is_better(const SunFreeSpan& a, const SunFreeSpan& b) {
    if (a.sure_hold() != b.sure_hold()) return a.sure_hold() > b.sure_hold();
    if (a.hold() != b.hold()) return a.hold() > b.hold();
    return a.span->from < b.span->from;
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
        spans.add_window(window, of_window);
        for (std::size_t mark = 0; mark < room.marks.size(); ++mark) {
            if (settings.mark && room.marks[mark].name != *settings.mark) continue;
            for (const auto camera : study.cameras_of(mark)) {
                if (settings.camera && !(camera && room.cameras[*camera].name == *settings.camera))
                    continue;
                for (SunFreeSpan told : of_window) {
                    told.mark = mark;
                    told.camera = camera;
                    told.to_cover = cover_spans(study, window, mark, camera, settings.near_m,
                                                told.span->from, told.span->to);
                    if (settings.as_is && !told.to_cover.empty()) continue;
                    out.push_back(std::move(told));
                }
            }
        }
    }
    std::stable_sort(out.begin(), out.end(), is_better);
    return out;
}

}  // namespace keyhour::study
