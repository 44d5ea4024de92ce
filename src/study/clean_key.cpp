#include "keyhour/study/clean_key.hpp"

#include <algorithm>
#include <cmath>

#include "key_criterion.hpp"
#include "key_parts.hpp"
#include "key_regions.hpp"
#include "search_times.hpp"

namespace keyhour::study {
namespace {

/// Looks for a bearing at which the key holds long enough within a run of what is possible.
class LongestHold {
public:
    LongestHold(const RoomStudy& study, const KeySettings& settings, const KeyInterval& who,
                const Span& run)
        : study_{study},
          criterion_{study, study.scene(), settings, who.mark, who.camera, who.window},
          run_{run},
          enough_{settings.shortest},
          step_{std::clamp(settings.shortest.count() / 3, 1.0, 20.0)},
          bearing_{room::plan_bearing(study.room()).from_north} {}

    /// @return at one of the bearings a tenth of a degree apart, or at the best between them
    [[nodiscard]] bool is_enough() {
        constexpr double apart_deg = 0.1;
        const double within = study_.room().bearing.within.in_degrees();
        if (begins_or_ends_well(within)) return true;
        moments_ = study_.path().samples(run_.from, run_.to, step_);
        const int n = static_cast<int>(std::ceil(within / apart_deg));
        double best = 0;
        Seconds longest{0};
        for (int i = n; i >= 0; --i)  // what only another bearing gives is mostly an outer one's
            for (const double by : {-within * i / std::max(n, 1), within * i / std::max(n, 1)}) {
                const Seconds held = longest_at(by);
                if (held >= enough_) return true;
                if (held > longest) {
                    longest = held;
                    best = by;
                }
            }
        if (longest < 0.5 * enough_) return false;
        for (int i = -9; i <= 9; ++i)
            if (longest_at(std::clamp(best + i * apart_deg / 10, -within, within)) >= enough_)
                return true;
        return false;
    }

private:
    /// Most runs do so at an outermost bearing, which saves looking through all of them.
    [[nodiscard]] bool begins_or_ends_well(double within) {
        const Seconds part = std::min(run_.length(), enough_ + 3 * step_);
        for (const Instant from : {run_.from, run_.to - part}) {
            moments_ = study_.path().samples(from, from + part, step_);
            for (const double by : {-within, within})
                if (longest_at(by) >= enough_) return true;
        }
        return false;
    }
    [[nodiscard]] Seconds longest_at(double turned_deg) const {
        const room::PlanTurn turn{{wrapped_turn(bearing_ + Angle::degrees(turned_deg))}};
        const auto margin = [&](const Moment& m) { return criterion_(m, turn); };
        Seconds longest{0};
        for (const Span& s : find_spans(study_.path(), moments_, margin))
            longest = std::max(longest, s.length());
        return longest;
    }

    const RoomStudy& study_;
    KeyCriterion criterion_;
    const Span& run_;
    Seconds enough_, step_;
    Angle bearing_;
    std::vector<Moment> moments_;
};

}  // namespace

std::optional<Span> longest_within(const std::vector<Span>& spans, const Span& within) {
    std::optional<Span> best;
    auto s = std::lower_bound(spans.begin(), spans.end(), within.from,
                              [](const Span& a, Instant t) { return a.to <= t; });
    for (; s != spans.end() && s->from < within.to; ++s) {
        const Span part{std::max(s->from, within.from), std::min(s->to, within.to)};
        if (part.length() > boundary_tolerance && (!best || part.length() > best->length()))
            best = part;
    }
    return best;
}

bool holds_at_some_bearing(const RoomStudy& study, const KeySettings& settings,
                           const KeyInterval& who, const Span& run) {
    return run.length() >= settings.shortest && LongestHold{study, settings, who, run}.is_enough();
}

namespace {

/// Intervals from the spans of one mark, camera and window that start in from <= t < to.
void add_intervals(const RoomStudy& study, const KeySettings& settings, const KeySpans& spans,
                   Instant from, Instant to, std::vector<KeyInterval>& out) {
    std::vector<Span> told;
    const auto tell = [&](const KeyInterval& interval, Instant start) {
        told.push_back(interval.possible);
        if (start >= from && start < to) out.push_back(interval);
    };
    for (const Span& span : spans.at.stated) {
        if (span.length() < settings.shortest || span.runs_at_start) continue;
        KeyInterval interval = spans.who;
        interval.span = span;
        interval.sure = longest_within(spans.at.every, span);
        interval.possible = run_with(spans.at.some, span);
        tell(interval, span.from);
    }
    // What the stated bearing does not give, another one may.
    std::vector<Span> stated = told;
    auto known = stated.begin();
    for (const Span& run : spans.at.some) {
        while (known != stated.end() && known->to <= run.from)
            ++known;
        if (known != stated.end() && known->from < run.to) continue;
        if (run.from < from || run.from >= to || run.runs_at_start) continue;
        if (!holds_at_some_bearing(study, settings, spans.who, run)) continue;
        KeyInterval interval = spans.who;
        interval.possible = run;
        tell(interval, run.from);
    }
}

}  // namespace

bool is_better(const KeyInterval& a, const KeyInterval& b) {
    if (a.sure_hold() != b.sure_hold()) return a.sure_hold() > b.sure_hold();
    if (a.hold() != b.hold()) return a.hold() > b.hold();
    return a.possible.from < b.possible.from;
}

void sort_best_first(std::vector<KeyInterval>& intervals) {
    std::stable_sort(intervals.begin(), intervals.end(), is_better);
}

std::vector<KeyInterval> clean_key(const RoomStudy& study, Instant from, Instant to,
                                   const KeySettings& settings) {
    const Instant first = std::max(study.path().from(), from - Seconds{7200});
    const Instant last = std::min(study.path().to(), to + one_day);
    std::vector<KeyInterval> out;
    for (const KeySpans& spans : key_spans(study, first, last, settings))
        add_intervals(study, settings, spans, from, to, out);
    sort_best_first(out);
    return out;
}

}  // namespace keyhour::study
