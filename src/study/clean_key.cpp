#include "keyhour/study/clean_key.hpp"

#include <algorithm>

#include "key_criterion.hpp"
#include "key_parts.hpp"
#include "key_regions.hpp"
#include "sampled_key.hpp"

namespace keyhour::study {
namespace {

constexpr Seconds day{86400};
/// The longest of the spans, each cut to `within`.
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

/// The span of `spans` that holds the middle of `inside`, made to hold it all.
Span run_with(const std::vector<Span>& spans, const Span& inside) {
    const Instant middle = inside.from + 0.5 * inside.length();
    for (auto s = std::lower_bound(spans.begin(), spans.end(), middle,
                                   [](const Span&a, Instant t) { return a.to < t; });
         s != spans.end() && s->from <= middle; ++s)
        return {std::min(s->from, inside.from), std::max(s->to, inside.to)};
    return {inside.from, inside.to};
}

/// Does the key hold long enough at one of the bearings, within the run?
bool holds_at_some_bearing(const RoomStudy& study, const KeySettings& settings,
                           const KeyInterval& who, const Span& run) {
    constexpr Seconds step{60};
    if (run.length() < settings.shortest) return false;
    const KeyCriterion criterion{study, study.scene(), settings, who.mark, who.camera, who.window};
    const auto samples = study.path().samples(std::max(study.path().from(), run.from - step),
                                              std::min(study.path().to(), run.to + step), step);
    for (const room::PlanTurn& turn : study.bearings().some)
        for (const Span& span :
             find_spans(study.path(), samples, [&](const Moment& m) { return criterion(m, turn); }))
            if (span.length() >= settings.shortest && !span.runs_at_start) return true;
    return false;
}

/// Intervals from the spans of one mark, camera and window that start in from <= t < to.
void add_intervals(const RoomStudy& study, const KeySettings& settings, const KeySpans& spans,
                   Instant from, Instant to, std::vector<KeyInterval>& out) {
    std::vector<Span> told;
    const auto tell = [&](const KeyInterval& interval, Instant start) {
        told.push_back(interval.possible);
        if (start >= from && start < to) out.push_back(interval);
    };
    for (const Span& span : spans.stated) {
        if (span.length() < settings.shortest || span.runs_at_start) continue;
        KeyInterval interval = spans.who;
        interval.span = span;
        interval.sure = longest_within(spans.every, span);
        interval.possible = run_with(spans.some, span);
        tell(interval, span.from);
    }
    // What the stated bearing does not give, another one may.
    std::vector<Span> stated = told;
    auto known = stated.begin();
    for (const Span& run : spans.some) {
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

/// Where sun through other windows may end an interval, it is looked for by sampling, but only
/// where there is a key at some bearing.
std::vector<std::vector<Moment>> sampled(const RoomStudy& study, const KeySpans& spans) {
    constexpr Seconds step{60}, aside{2};
    std::vector<std::vector<Moment>> out;
    for (const Span& run : spans.some)
        out.push_back(study.path().samples(std::max(study.path().from(), run.from - aside),
                                           std::min(study.path().to(), run.to + aside), step));
    return out;
}

std::vector<KeyInterval> by_regions(const RoomStudy& study, Instant from, Instant to, Instant first,
                                    Instant last, const KeySettings& settings) {
    std::vector<KeyInterval> out;
    for (const KeySpans& spans : key_spans(study, first, last, settings)) {
        if (settings.as_is)
            add_sampled_intervals(study, settings, sampled(study, spans), from, to, first, last,
                                  spans.who, out);
        else
            add_intervals(study, settings, spans, from, to, out);
    }
    return out;
}

std::vector<KeyInterval> by_sampling(const RoomStudy& study, Instant from, Instant to,
                                     Instant first, Instant last, const KeySettings& settings) {
    std::vector<KeyInterval> out;
    const auto samples = study.path().samples(first, last, sample_step);
    for_each_wanted(study, settings, [&](std::size_t mark, auto camera, std::size_t window) {
        if (!lets_sun_in(study.room().windows[window]) || !study.scene().faces(window, mark))
            return;
        KeyInterval who;
        who.mark = mark;
        who.camera = camera;
        who.window = window;
        add_sampled_intervals(study, settings, lit_stretches(study, samples, settings, who), from,
                              to, first, last, who, out);
    });
    return out;
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
    const Instant last = std::min(study.path().to(), to + day);
    auto out = traces_regions(from, to, settings)
                   ? by_regions(study, from, to, first, last, settings)
                   : by_sampling(study, from, to, first, last, settings);
    sort_best_first(out);
    return out;
}

}  // namespace keyhour::study
